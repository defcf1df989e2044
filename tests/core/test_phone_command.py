"""phone: which address, which key, and what is said where it can't be."""

import os
import socket

import pytest

from core.__main__ import main
from core.cli.addresses import Address, own_addresses, square
from core.cli.phone import HOTSPOT, chosen_address, the_key, words
from core.errors import BadRequest

HOME, CAMP = Address("192.168.1.20", "wlan0"), Address("10.0.0.7", "eth0")


def test_the_one_address_is_taken():
    assert chosen_address(None, [HOME]) == "192.168.1.20"


def test_several_are_asked_about_with_the_answer():
    with pytest.raises(BadRequest, match=r"--address 192.168.1.20 \(wlan0\); --address 10.0.0.7"):
        chosen_address(None, [HOME, CAMP])
    assert chosen_address("10.0.0.7", [HOME, CAMP]) == "10.0.0.7"


def test_no_network_says_how_a_hotspot_makes_one():
    with pytest.raises(BadRequest) as told:
        chosen_address(None, [])
    assert HOTSPOT in told.value.text()


@pytest.mark.parametrize("asked", ["8.8.8.8", "0.0.0.0", "::", "localhost", "10.0.0.8", ""])
def test_an_address_of_another_machine_is_refused(asked):
    with pytest.raises(BadRequest, match="not an address of this machine"):
        chosen_address(asked, [HOME, CAMP])


def test_own_addresses_are_of_home_networks(monkeypatch):
    class Ip:
        def __init__(self, ip, version=4):
            self.ip, self.is_IPv4 = ip, version == 4

    class Adapter:
        nice_name = "wlan0"
        ips = (
            Ip("127.0.0.1"),
            Ip("169.254.3.4"),
            Ip("8.8.8.8"),
            Ip("192.168.1.20"),
            Ip("172.20.10.2"),
            Ip("100.64.1.2"),
            Ip(("fe80::1", 0, 0), version=6),
        )

    monkeypatch.setattr("ifaddr.get_adapters", lambda: [Adapter()])
    assert [a.ip for a in own_addresses()] == ["192.168.1.20", "172.20.10.2", "100.64.1.2"]


def test_a_port_that_is_taken_is_said_and_nothing_is_left_running(monkeypatch, capsys):
    monkeypatch.setattr("core.cli.addresses.own_addresses", lambda: [Address("127.0.0.1", "lo")])
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        assert main(["phone", "--port", str(port)]) == 2
    told = capsys.readouterr()
    assert f"port {port} of 127.0.0.1 is taken by another program" in told.err
    assert "--port 8600" in told.err
    assert "http" not in told.out  # no link that opens nothing
    assert main(["phone", "--port", "80"]) == 2
    assert "port 80 can't be used" in capsys.readouterr().err


def test_each_of_the_other_faults_is_one_message_too(monkeypatch, capsys):
    monkeypatch.setattr("core.cli.addresses.own_addresses", list)
    assert main(["phone"]) == 2
    told = capsys.readouterr().err
    assert "this machine is on no network" in told and "hotspot" in told
    assert main(["phone", "--address", "192.0.2.7"]) == 2  # RFC 5737: nobody's
    told = capsys.readouterr().err
    assert "'192.0.2.7' is not an address of this machine" in told


def test_keys_are_long_and_new(tmp_path, monkeypatch):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    keys = {the_key(same=False) for _ in range(50)}
    assert len(keys) == 50
    assert min(len(k) for k in keys) * 6 >= 128  # letters of six bits each
    assert list(tmp_path.iterdir()) == []
    kept = the_key(same=True)
    assert the_key(same=True) == kept
    assert kept not in keys


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such rights")
@pytest.mark.parametrize("held", ["k" * 32, "short"])
def test_a_key_file_that_others_can_read_is_closed_to_them(held, tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    file = tmp_path / "phone-key.txt"
    file.write_text(held)
    file.chmod(0o644)
    key = the_key(same=True)
    assert len(key) >= 24 and file.read_text() == key
    assert file.stat().st_mode & 0o777 == 0o600
    assert "Others on this machine could read phone-key.txt" in capsys.readouterr().err
    assert the_key(same=True) == key
    assert capsys.readouterr().err == ""


def test_the_terminal_shows_a_square_the_link_and_how_to_stop():
    link = "http://192.168.1.20:8501/?key=abc"
    said = "\n".join(words(link, look=False))
    assert square(link) in said
    assert link in said
    assert "plain http" in said and "Ctrl+C" in said
    assert "new at each start" in said
    assert "change nothing" in "\n".join(words(link, look=True))
    assert "that of the last" in "\n".join(words(link, look=True, same=True))
