"""The dashboard behind its door, bound to one address: what `python -m core phone` starts.

    python -m pages.ui.phone.serve ADDRESS PORT

The key comes by the environment, so that no list of processes shows it. One line on
standard output tells that the server answers.
"""

import os
import sys
from contextlib import asynccontextmanager
from pathlib import Path

import streamlit as st
from starlette.middleware import Middleware

from core.cli.phone import KEY_VARIABLE, STARTED
from pages.ui.callers import Callers
from pages.ui.home_screen import HomeScreen
from pages.ui.phone.door import Door

DASHBOARD = Path(__file__).resolve().parents[3] / "dashboard.py"


@asynccontextmanager
async def telling(_app):
    """Says once that the server is there."""
    print(STARTED, flush=True)
    yield


def main(address: str, port: int) -> None:
    """Serves until it is stopped. Args: the address to bind to; the port."""
    key = os.environ.pop(KEY_VARIABLE)
    before = [
        Middleware(Door, key=key),
        Middleware(Callers, names=(address,)),
        Middleware(HomeScreen),
    ]
    app = st.App(DASHBOARD, lifespan=telling, middleware=before)
    app.run(
        config={
            "server.address": address,
            "server.port": port,
            "server.allowedHosts": [address],
            "server.headless": True,
            "browser.serverAddress": address,
            "server.fileWatcherType": "none",
        }
    )


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
