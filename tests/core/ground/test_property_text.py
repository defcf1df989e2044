"""Bytes that are no property file, and odd ones that are."""

import json

import pytest

from core.errors import BadProperty
from core.ground.jsontext import write_json
from core.ground.store import open_property, parse_property
from tests import ground_files as g

HTML_NAME = "<img src=x onerror=alert(1)>"


def refused(data: bytes) -> BadProperty:
    with pytest.raises(BadProperty) as caught:
        parse_property(data, "test.json")
    assert caught.value.where.startswith("test.json")
    assert caught.value.fix
    return caught.value


def with_member(text: str) -> bytes:
    """A sound file with one more member in its first feature, as raw text."""
    whole = g.as_bytes(g.document(g.stand("oak", 0, 0)))
    return whole.replace(b'"kind": "stand"', b'"kind": "stand", ' + text.encode())


@pytest.mark.parametrize("data", [b"", b"  \n\t "])
def test_an_empty_file(data):
    error = refused(data)
    assert f"the file is empty ({len(data)} bytes)" in error.what


def test_a_file_cut_in_half_is_refused_with_its_place():
    data = write_json(g.whole_ground())
    error = refused(data[: len(data) // 2])
    # the place a JSON reader gives up at, found by counting lines of the half itself
    lines = data[: len(data) // 2].decode().split("\n")
    assert f"line {len(lines)}, column" in error.what
    assert "cut off" in error.fix
    assert "earlier version" in error.fix


def test_every_cut_is_refused_and_nothing_else_happens():
    data = write_json(g.whole_ground()).rstrip()
    for end in range(0, len(data), 37):
        refused(data[:end])


@pytest.mark.parametrize(
    ("data", "seen"),
    [
        (b"hello", "not JSON at line 1, column 1"),
        (b'{"type": "FeatureCollection",}', "line 1, column 30"),
        (b"[]", "holds [], not an object"),
        (b'"oak"', 'holds "oak", not an object'),
        (b"3", "holds 3, not an object"),
        (b"null", "holds null, not an object"),
        (b'{"name": "\xff"}', "byte 10 is 0xff, not UTF-8"),
        ('{"name": "Öak"}'.encode("latin-1"), "byte 10 is 0xd6, not UTF-8"),
        ('{"a": 1}'.encode("utf-16"), "byte 0 is 0xff, not UTF-8"),
    ],
)
def test_what_is_not_json(data, seen):
    assert seen in refused(data).what


@pytest.mark.parametrize("word", ["NaN", "Infinity", "-Infinity"])
@pytest.mark.parametrize("member", ["height_ft", "unknown"])
def test_a_word_for_no_number_is_refused_everywhere(word, member):
    error = refused(with_member(f'"{member}": {word}'))
    assert f"{word} is not a number that JSON has" in error.what


@pytest.mark.parametrize("digits", ["1e999", "-1e999", "9" * 400, "9" * 5000])
def test_a_number_too_large_is_refused_everywhere(digits):
    error = refused(with_member(f'"unknown": {digits}'))
    assert f"the number {digits[:5]}" in error.what
    assert "too large" in error.what


def test_a_member_given_twice_is_refused_with_its_object():
    error = refused(with_member('"name": "Elm", "seat": "box"'))
    assert error.what == 'an object has "name" twice in {"name": "Oak"}'
    error = refused(b'{"type": "Feature", "id": "oak", "type": "FeatureCollection"}')
    assert error.what == 'an object has "type" twice in {"id": "oak"}'


@pytest.mark.parametrize("depth", [101, 990, 100_000])
@pytest.mark.parametrize("pair", ["[]", "{}"])
def test_deep_nesting_is_refused(depth, pair):
    opening = "[" if pair == "[]" else '{"a":'
    closing = pair[1]
    inner = opening * depth + ("1" if pair == "{}" else "") + closing * depth
    error = refused(with_member(f'"unknown": {inner}'))
    assert "over 100 deep" in error.what


def test_nesting_within_reason_is_kept():
    nested = "[" * 90 + "]" * 90
    opened = parse_property(with_member(f'"unknown": {nested}'), "test.json")
    assert json.dumps(opened.document["features"][0]["properties"]["unknown"]) == nested


def test_half_a_character_is_refused():
    error = refused(with_member('"notes": "bad \\ud83d"'))
    assert "\\ud83d is half a character" in error.what
    whole = parse_property(with_member('"notes": "deer \\ud83e\\udd8c"'), "test.json")
    assert whole.property.stands[0].notes == "deer \N{DEER}"


def test_over_ten_million_bytes_is_refused(tmp_path):
    data = with_member(f'"notes": "{"x" * 10_000_000}"')
    assert f"{len(data):,} bytes, over 10,000,000" in refused(data).what
    path = tmp_path / "large.json"
    path.write_bytes(data)
    with pytest.raises(BadProperty, match="over 10,000,000"):
        open_property(path)


def test_a_byte_order_mark_is_let_through():
    data = b"\xef\xbb\xbf" + g.as_bytes(g.whole_ground())
    assert parse_property(data, "test.json").property == g.load(g.whole_ground())


NAMES = [
    HTML_NAME,
    "'; DROP TABLE stands; --",
    "Böcke & Hirsche \N{DEER}",
    "שלום \u202e gnorw",
    "line\nbreak\ttab\x00nul\x7f",
    "{{ name }} ${name} %s \\",
    "x" * 5000,
]


@pytest.mark.parametrize("name", NAMES)
def test_any_characters_are_a_name(name):
    document = g.document(g.stand("oak", 0, 0, name=name), name=name)
    opened = g.opened(document)
    assert opened.property.name == name
    assert opened.property.stands[0].name == name
    assert opened.document == document


@pytest.mark.parametrize("name", NAMES)
def test_a_message_with_such_a_name_is_one_short_printable_line(name):
    with pytest.raises(BadProperty) as caught:
        g.load(g.document(g.stand("oak", 0, 0, name=name, seat=name)))
    text = caught.value.text()
    assert text.isprintable()
    assert len(text) < 400


@pytest.mark.parametrize("name", [None, "", "   "])
def test_a_feature_without_a_name_goes_by_its_id(name):
    document = g.document(g.stand("oak", 0, 0, name=name))
    assert g.load(document).stands[0].name == "oak"


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda folder: folder / "gone.json", "gone.json: the file cannot be opened"),
        (lambda folder: folder, "cannot be opened"),
    ],
)
def test_a_file_that_cannot_be_opened(tmp_path, make, said):
    with pytest.raises(BadProperty, match=said) as caught:
        open_property(make(tmp_path))
    assert str(tmp_path) in caught.value.where
