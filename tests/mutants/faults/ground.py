"""Faults in ground."""

from tests.mutants.placing import Fault

RECEPTORS = ("tests/core/ground/test_receptors.py",)
SCENE = ("tests/core/sit/test_scene.py",)
PLANE = ("tests/reference/test_geodesy.py",)
DRAWING = tuple(
    f"tests/core/ground/drawing/test_{name}.py"
    for name in ("draft", "edits", "snapping", "gestures", "kept_drafts")
)
DRAFTS = ("tests/core/ground/drawing/test_kept_drafts.py",)
REDRAWN = ("tests/whole/test_redrawn_grounds.py",)

WEAPONS = ("tests/core/sit/test_weapons.py",)

FAULTS = (
    Fault(
        "renamed-weapon-loses-its-season",
        "core/ground/drawing/settings.py::_renamed",
        '{**s, "weapon": new} if',
        "s if",
        ("tests/core/ground/drawing/test_settings.py",),
    ),
    Fault(
        "orange-of-own-season-only",
        "core/sit/dates.py::orange_for",
        "seasons_on(ground, date)[::-1]",
        "seasons_on(ground, date)[:1]",
        WEAPONS,
    ),
    Fault(
        "person-range-of-any-weapon",
        "core/ground/hunters.py::range_yd",
        "_of(person.ranges_yd, weapon, person.range_yd)",
        "person.range_yd",
        WEAPONS,
    ),
    Fault(
        "taken-stand-in-next-sits",
        "core/answer/coming.py::next_sits",
        "answer_sits(sits, taken)",
        "answer_sits(sits)",
        WEAPONS,
    ),
    Fault(
        "cos-lat-dropped",
        "core/ground/plan.py::Plane.__init__",
        "math.radians(normal_m * math.cos(phi))",
        "math.radians(normal_m)",
        PLANE,
    ),
    Fault(
        "lat-lon-swapped",
        "core/ground/plan.py::Plane.__init__",
        "self.lon_deg, self.lat_deg = center",
        "self.lat_deg, self.lon_deg = center",
        PLANE,
    ),
    Fault(
        "bearing-sin-cos",
        "core/ground/plan.py::bearing_deg",
        "np.arctan2(delta[..., 0], delta[..., 1])",
        "np.arctan2(delta[..., 1], delta[..., 0])",
        PLANE,
    ),
    Fault(
        "corners-between-rays-unseen",
        "core/ground/place.py::_corners",
        "shown = np.flatnonzero(far_m < beside)",
        "shown = np.flatnonzero(far_m < 0.0)",
        RECEPTORS,
    ),
    Fault(
        "a-piece-is-met-by-its-farther-end",
        "core/ground/place.py::_least_of_each",
        "least = np.minimum.reduceat(values, first)",
        "least = values[first]",
        RECEPTORS,
    ),
    Fault(
        "a-seat-on-a-trail-has-it-all-round",
        "core/ground/place.py::_seen",
        "from_deg[on_it], turn_deg[on_it] = deg[ends[0]], 0.0",
        "from_deg[on_it] = deg[ends[0]]",
        RECEPTORS,
    ),
    Fault(
        "sources-of-a-chunk-not-counted-on",
        "core/ground/place.py::receptors",
        "f[2] + i * step * n_zones",
        "f[2] + i * n_zones",
        RECEPTORS,
    ),
    Fault(
        "inside-is-not-all-round",
        "core/ground/place.py::_met_by_rays",
        "np.full(len(round_), MIN_DISTANCE_M)",
        "np.full(len(round_), np.inf)",
        RECEPTORS,
    ),
    Fault(
        "way-out-takes-the-sources-of-the-way-in",
        "core/ground/place.py::Receptors.turned",
        "group = (self.n_sources - 1 - self.source())",
        "group = self.source()",
        SCENE,
    ),
    Fault(
        "draft-undone-step-survives-a-new-one",
        "core/ground/drawing/draft.py::changed",
        "return Draft(document, (*draft.past, Step(done, draft.document))[-MOST_STEPS:])",
        "return replace(draft, document=document, past=(*draft.past, Step(done, draft.document)))",
        DRAWING,
    ),
    Fault(
        "draft-newest-step-forgotten",
        "core/ground/drawing/draft.py::changed",
        "Step(done, draft.document))[-MOST_STEPS:]",
        "Step(done, draft.document))[:MOST_STEPS]",
        DRAWING,
    ),
    Fault(
        "draft-no-change-is-a-step",
        "core/ground/drawing/draft.py::changed",
        "    if document == draft.document:\n        return draft\n",
        "",
        DRAWING,
    ),
    Fault(
        "moved-stand-leaves-its-lane",
        "core/ground/drawing/edits.py::_ends_along",
        'if members["kind"] != "lane" or stand_id not in members.get("stands", []):',
        'if members["kind"] != "lane" or stand_id in members.get("stands", []):',
        DRAWING,
    ),
    Fault(
        "moved-outline-loses-its-holes",
        "core/ground/drawing/edits.py::reshaped",
        '[*geometry["coordinates"], *holes]',
        '[*geometry["coordinates"]]',
        DRAWING,
    ),
    Fault(
        "gone-stand-stays-in-its-lane",
        "core/ground/drawing/edits.py::_without_stand",
        "left = [id_ for id_ in stands if id_ != stand_id]",
        "left = [*stands]",
        DRAWING,
    ),
    Fault(
        "line-joined-to-itself",
        "core/ground/drawing/snapping.py::snapped",
        'item["properties"]["kind"] in wanted and item["id"] != own_id',
        'item["properties"]["kind"] in wanted',
        DRAWING,
    ),
    Fault(
        "end-inside-a-bed-pulled-to-its-edge",
        "core/ground/drawing/snapping.py::_nearest",
        "return None  # it ends inside already",
        "pass  # it ends inside already",
        DRAWING,
    ),
    Fault(
        "lane-end-joined-to-the-truck",
        "core/ground/drawing/snapping.py::_wanted",
        'return ("truck",) if end == 0 else ("stand",)',
        'return ("stand",) if end == 0 else ("truck",)',
        DRAWING,
    ),
    Fault(
        "end-jumps-as-far-as-the-map-is-wide",
        "core/ground/drawing/gestures.py::_within_m",
        "return min(FARTHEST_M, max(0.0, float(value)))",
        "return max(0.0, float(value))",
        DRAWING,
    ),
    Fault(
        "gesture-without-a-place-let-in",
        "core/ground/drawing/gestures.py::_is_nested",
        "isinstance(value, list) and bool(value) and all(",
        "isinstance(value, list) and all(",
        DRAWING,
    ),
    Fault(
        "kept-draft-shared-by-all-tabs",
        "core/ground/drawing/kept_drafts.py::_place",
        'return _folder(path) / f"{key}.json"',
        'return _folder(path) / "draft.json"',
        DRAFTS,
    ),
    Fault(
        "kept-draft-dropped-though-changed",
        "core/ground/drawing/kept_drafts.py::drop_draft",
        "if not mark or content_hash(place.read_bytes()) == mark:",
        "if True:",
        DRAFTS,
    ),
    Fault(
        "kept-draft-undo-not-kept",
        "core/ground/drawing/kept_drafts.py::_written",
        '"past": pool.steps(draft.past[-most:] if most else ()),',
        '"past": [],',
        DRAFTS,
    ),
    Fault(
        "kept-draft-newest-steps-dropped",
        "core/ground/drawing/kept_drafts.py::_written",
        "draft.past[-most:] if most",
        "draft.past[:most] if most",
        DRAFTS,
    ),
    Fault(
        "kept-draft-saved-counts-as-unsaved",
        "core/ground/drawing/kept_drafts.py::holds_more",
        "return bool(what_changed(kept.saved, drawn)) and bool(what_changed(document, drawn))",
        "return bool(what_changed(kept.saved, drawn))",
        DRAFTS,
    ),
    Fault(
        "kept-draft-full-disk-called-kept",
        "core/ground/drawing/kept_drafts.py::keep_draft",
        "return False",
        "return True",
        DRAFTS,
    ),
    Fault(
        "hole-of-a-boundary-forgotten",
        "core/ground/features.py::_area",
        "return _mark(kind, shape, ring, tuple(holes))",
        "return _mark(kind, shape, ring)",
        ("tests/core/test_map.py", "tests/core/say/test_measures.py"),
    ),
    Fault(
        "plane-that-widens-northward",
        "core/ground/plan.py::Plane.to_local",
        "return east * self.m_per_lon_deg, north * self.m_per_lat_deg",
        "return east * self.m_per_lon_deg * (1.0 + north), north * self.m_per_lat_deg",
        REDRAWN,
    ),
    Fault(
        "four-neighbors",
        "core/ground/heights/slope_at.py::slope_at",
        "west, east = z[:, 0] @ (1, 2, 1), z[:, 2] @ (1, 2, 1)",
        "west, east = z[:, 0] @ (0, 4, 0), z[:, 2] @ (0, 4, 0)",
        ("tests/reference/test_slope_of_heights.py",),
    ),
    Fault(
        "a-hole-has-no-edge",
        "core/ground/plan.py::zone_of_area",
        "*(np.asarray(r.coords) for r in area.interiors)",
        "*()",
        ("tests/core/ground/test_receptors.py",),
    ),
    Fault(
        "standing-about-is-walked",
        "core/ground/exchange/walked.py::_moves",
        "pace >= STANDS_BELOW *",
        "pace >= 0 *",
        ("tests/core/ground/exchange/test_walked.py",),
    ),
    Fault(
        "a-name-alone-makes-a-way",
        "core/ground/exchange/choices.py::_placed",
        "unsure = is_way_and_more(one.name)",
        "unsure = False",
        ("tests/core/ground/exchange/test_choices.py",),
    ),
)
