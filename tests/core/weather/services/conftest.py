"""What tests of services share."""

import pytest


@pytest.fixture(autouse=True)
def no_proxy(monkeypatch):
    """A service on this machine is asked without a proxy."""
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
