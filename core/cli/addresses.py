"""This machine's addresses on its own networks, and a link as a square to point a camera at.

The system is asked for its adapters; nothing is sent.
"""

import io
import ipaddress
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Address:
    """One address of this machine, and the name of its network adapter."""

    ip: str
    name: str


def own_addresses() -> list[Address]:
    """Addresses that a phone on the same network can reach; none without a network.

    Loopback, self-given and public addresses are left out: the first two reach no phone,
    and a ground is not to be opened to the world.
    """
    import ifaddr

    found = []
    for adapter in ifaddr.get_adapters():
        for ip in adapter.ips:
            if ip.is_IPv4 and _is_home(str(ip.ip)):
                found.append(Address(str(ip.ip), adapter.nice_name))
    return found


def _is_home(text: str) -> bool:
    ip = ipaddress.ip_address(text)
    # 100.64.0.0/10 is what some hotspots give out (RFC 6598)
    shared = ip in ipaddress.ip_network("100.64.0.0/10")
    return (ip.is_private or shared) and not (
        ip.is_loopback or ip.is_link_local or ip.is_unspecified
    )


def square(link: str) -> str:
    """A QR code of letters for the terminal (ISO/IEC 18004). Args: the link."""
    import segno

    out = io.StringIO()
    segno.make(link, error="l", micro=False).terminal(out=out, compact=True)
    return out.getvalue().rstrip("\n")
