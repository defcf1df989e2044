"""The criticism panel: what it says, accepting, and taking back."""

import json

import pytest

from core.ground.store import demo_path, open_property, save_property
from tests.pages.conftest import opened_panel


def app():
    import os

    from core.ground.store import open_property
    from pages.ui.map.criticism import criticism_panel

    criticism_panel(open_property(os.environ["PANEL_FILE"]))


def drafted_app():
    import os

    import streamlit as st

    from core.ground.store import open_property
    from pages.ui.map.criticism import criticism_panel

    opened = open_property(os.environ["PANEL_FILE"])

    def keep(change, said):
        document = change(opened.document)
        st.session_state["draft"] = (document["property"]["accepted"], said)
        return "refused" not in st.session_state

    criticism_panel(opened, keep)


def run(function):
    return opened_panel(function)


def shown(at):
    return " ".join([m.value for m in at.markdown] + [c.value for c in at.caption])


def accepted(path):
    return json.loads(path.read_text(encoding="utf-8"))["property"]["accepted"]


HIGH = "stand-high:dry-fork"


@pytest.mark.usefixtures("farm")
def test_smaller_things_wait_in_a_box_and_safety_does_not():
    at = run(app)
    (box,) = (e for e in at.expander if e.label.startswith("Smaller things"))
    inside = {b.key for b in box.button}
    every = {b.key for b in at.button}
    assert box.label.endswith(f": {len(inside)}") and 0 < len(inside) < len(every)
    assert f"accept-{HIGH}" in every - inside
    assert not [k for k in every - inside if "corridor-" in k or "bed-no-trail" in k]


@pytest.mark.whole_demo
@pytest.mark.usefixtures("farm")
def test_the_bad_lane_heads_the_list():
    at = run(app)
    names = [m.value for m in at.markdown if m.value.startswith("**")]
    assert names[0] == "**Old ridge road**"
    assert "MassWildlife" in shown(at)
    assert "common practice, no source" in shown(at).replace("\\", "")
    assert all(not b.disabled for b in at.button)


def test_accept_and_say_it_again(farm):
    at = run(app)
    count = len([b for b in at.button if b.key.startswith("accept-")])
    at.button(key=f"accept-{HIGH}").click().run()
    assert not at.exception
    assert accepted(farm) == [HIGH]
    assert "Accepted: Dry fork" in at.success[0].value.replace("\\", "")
    assert len([b for b in at.button if b.key.startswith("accept-")]) == count - 1
    at.button(key=f"again-{HIGH}").click().run()
    assert accepted(farm) == []
    assert len([b for b in at.button if b.key.startswith("accept-")]) == count
    # the note is said once
    assert not at.run().success


def test_another_tab_is_not_overwritten(farm):
    at = run(app)
    other = open_property(farm)
    save_property(other, {**other.document, "x": 1}, now_s=9)
    # the click belongs to a screen drawn before that save
    at.button(key=f"accept-{HIGH}").click().run()
    assert not at.exception
    assert json.loads(farm.read_text(encoding="utf-8"))["x"] == 1
    assert accepted(farm) == []
    assert "changed since it was opened" in at.error[0].value


def test_a_page_may_keep_changes_itself(farm):
    at = run(drafted_app)
    at.button(key=f"accept-{HIGH}").click().run()
    kept, said = at.session_state["draft"]
    assert kept == [HIGH] and "Dry fork" in said
    assert accepted(farm) == []
    assert at.success
    at.session_state["refused"] = True
    at.button(key=f"accept-{HIGH}").click().run()
    assert not at.success and not at.error and not at.exception


def test_the_demo_says_that_it_is_read_only(monkeypatch):
    monkeypatch.setenv("PANEL_FILE", str(demo_path()))
    at = run(app)
    assert all(b.disabled for b in at.button)
    assert "read-only" in shown(at).replace("\\", "")


def test_an_empty_ground(tmp_path, monkeypatch):
    demo = open_property(demo_path())
    path = tmp_path / "bare.json"
    save_property(demo, {**demo.document, "features": []}, path, now_s=0)
    monkeypatch.setenv("PANEL_FILE", str(path))
    at = run(app)
    assert shown(at) == "Nothing to criticise."
    assert not at.button
