"""phone: opens the dashboard to a phone on this machine's own network, behind a key."""

import os
import secrets
import signal
import stat
import subprocess
import sys
import threading
from pathlib import Path

from core.cli.printing import put
from core.errors import BadRequest

KEY_VARIABLE = "STAND_WIND_KEY"
STARTED = "the dashboard answers"
NOT_FREE = "is not available"  # how the server puts it
KEY_BYTES = 24  # 192 bits
KEY_FILE = "phone-key.txt"
OWNER_ONLY = 0o600
PORT, LOWEST_PORT, HIGHEST_PORT = 8501, 1024, 65_535
HOUSE = Path(__file__).resolve().parents[2]
HOTSPOT = (
    "Turn on the phone's hotspot, let this machine join it, and try again. No signal is "
    "needed for that."
)


def register(commands) -> None:
    """Adds this command. Args: argparse's subparsers."""
    phone = commands.add_parser("phone", help="opens the dashboard to a phone, behind a key")
    phone.add_argument("--address", help="which of this machine's addresses, where it has several")
    phone.add_argument("--port", type=int, default=PORT, help="another port than 8501")
    phone.add_argument(
        "--same-key", action="store_true", help="the key of the last time, so that links go on"
    )
    phone.add_argument(
        "--look", action="store_true", help="the phone may look and take pages along, not change"
    )
    phone.set_defaults(run=_phone)


def _phone(options) -> str:
    from core.cli.addresses import own_addresses

    address = chosen_address(options.address, own_addresses())
    if not LOWEST_PORT <= options.port <= HIGHEST_PORT:
        fix = f"Use {LOWEST_PORT} to {HIGHEST_PORT}, such as 8600."
        raise BadRequest(f"port {options.port} can't be used", "--port", fix)
    key = the_key(options.same_key)
    link = f"http://{address}:{options.port}/?key={key}"
    signal.signal(signal.SIGTERM, signal.default_int_handler)  # ends like Ctrl+C
    server = _start(address, options, key)
    try:
        _wait_for(server, address, options.port)
        put(words(link, options.look, options.same_key), sys.stdout)
        server.wait()
    except KeyboardInterrupt:
        pass
    finally:
        _stop(server)
    return "Stopped. The link opens nothing any more."


def chosen_address(asked: str | None, found: list) -> str:
    """The address to bind to.

    Args: the one that was named, or None; this machine's own (`core.cli.addresses`).
    Returns: it as text. Raises: BadRequest where none, several or another is meant.
    """
    known = [a.ip for a in found]
    if asked is not None:
        if asked not in known and not asked.startswith("127."):
            raise BadRequest(
                f"'{asked}' is not an address of this machine",
                "--address",
                f"Its own: {', '.join(known) or 'none'}.",
            )
        return asked
    if not known:
        raise BadRequest("this machine is on no network", "the phone", HOTSPOT)
    if len(known) > 1:
        told = "; ".join(f"--address {a.ip} ({a.name})" for a in found)
        raise BadRequest("this machine is on several networks", "the phone", f"Choose: {told}.")
    return known[0]


def the_key(same: bool) -> str:
    """A new key, or the one that was kept. Args: whether to go on with the last one.

    A kept key lies in the user's folder, readable by its owner only.
    Raises: BadRequest where it can't be kept.
    """
    if not same:
        return secrets.token_urlsafe(KEY_BYTES)
    from core.ground.store import data_folder

    path = data_folder() / KEY_FILE
    try:
        kept = path.read_text(encoding="ascii").strip() if path.exists() else ""
        if len(kept) >= KEY_BYTES:
            _for_owner_alone(path)
            return kept
        path.parent.mkdir(parents=True, exist_ok=True)
        key = secrets.token_urlsafe(KEY_BYTES)
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, OWNER_ONLY)
        _for_owner_alone(path)
        with os.fdopen(handle, "w", encoding="ascii") as stream:
            stream.write(key)
    except (OSError, ValueError) as fault:
        raise BadRequest(
            f"the key can't be kept ({fault})", "--same-key", "Leave --same-key out."
        ) from fault
    return key


def _for_owner_alone(path: Path) -> None:
    """Takes from others what rights they have on the key's file, and says so."""
    if os.name != "posix" or not stat.S_IMODE(path.stat().st_mode) & ~OWNER_ONLY:
        return
    path.chmod(OWNER_ONLY)
    put(
        [
            f"Others on this machine could read {path.name}; now you alone can. If they may "
            "have, delete it for a new key."
        ],
        sys.stderr,
    )


def _start(address: str, options, key: str) -> subprocess.Popen:
    from core.ground.looking import LOOK_VARIABLE

    environment = {**os.environ, KEY_VARIABLE: key, LOOK_VARIABLE: "1" if options.look else ""}
    return subprocess.Popen(
        [sys.executable, "-m", "pages.ui.phone.serve", address, str(options.port)],
        cwd=HOUSE,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def _wait_for(server: subprocess.Popen, address: str, port: int) -> None:
    """Waits until the server says that it answers. Raises: BadRequest where it ends first."""
    assert server.stdout is not None and server.stderr is not None
    for line in server.stdout:
        if line.strip() == STARTED:
            for stream in (server.stdout, server.stderr):  # a full pipe would hold it up
                threading.Thread(target=stream.read, daemon=True).start()
            return
    server.wait()
    told = server.stderr.read().strip().splitlines()
    why = told[-1] if told else "it said nothing"
    if NOT_FREE in why:
        raise BadRequest(
            f"port {port} of {address} is taken by another program",
            "--port",
            "Stop that one (an earlier start of this?), or try --port 8600.",
        )
    raise BadRequest(
        f"the dashboard could not start at {address}, port {port} ({why})",
        "the phone",
        "Try another port, such as --port 8600, or join the network again.",
    )


def _stop(server: subprocess.Popen) -> None:
    if server.poll() is None:
        server.terminate()
        try:
            server.wait(timeout=10)
        except subprocess.TimeoutExpired:
            server.kill()


def words(link: str, look: bool, same: bool = False) -> list[str]:
    """What the terminal shows. Args: the link; whether the phone only looks; whether the key is
    that of the last time."""
    from core.cli.addresses import square

    rights = (
        "Whoever has it can look and take pages along, and change nothing."
        if look
        else "Whoever has it can see and change this ground. --look lets them look only."
    )
    return [
        *square(link).split("\n"),
        f"On the phone, in this machine's network: {link}",
        rights,
        "It is plain http: use it on a network you trust, your own or the phone's hotspot.",
        "The key is that of the last --same-key: links of then open this too."
        if same
        else "The key is new at each start.",
        "Stop with Ctrl+C.",
    ]
