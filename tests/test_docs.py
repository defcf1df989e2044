"""Public functions of core say what they take and give, and name known sources."""

import ast
import functools
import re
from pathlib import Path

import pytest

from core.references import REFERENCES, citation

ROOT = Path(__file__).resolve().parents[1]
FORMULAS = ("core/air/", "core/sky/")
CITED = re.compile(r"\[([a-z][a-z0-9-]*[a-z0-9])\]")
# a source, or the plain word that there is none
ORIGIN = re.compile(r"Source:|common practice|[Nn]o published value|assumption|settings")
UNITS = {"deg", "m", "s", "h", "degc", "degf", "hpa", "yd", "ft", "mph", "knots", "min", "rad"}


@functools.cache
def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def public_functions():
    for path in sorted((ROOT / "core").rglob("*.py")):
        name = path.relative_to(ROOT).as_posix()
        module = parsed(path)
        said = ast.get_docstring(module) or ""
        for node in module.body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                yield name, node, said


def docstrings():
    for path in sorted((ROOT / "core").rglob("*.py")):
        for node in ast.walk(parsed(path)):
            if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef):
                yield path, ast.get_docstring(node) or ""


def doc_faults(name: str, function: ast.FunctionDef, module_text: str = "") -> list[str]:
    """What a public function leaves unsaid; one line is enough for a plain one."""
    text = ast.get_docstring(function) or ""
    if not text:
        return ["no docstring"]
    arguments = [a.arg for a in (*function.args.args, *function.args.kwonlyargs)]
    faults = []
    if len(arguments) > 3 and "Args" not in text and not _names_all(arguments, text):
        faults.append("its arguments are not explained")
    raised = {ast.unparse(n.exc).split("(")[0] for n in ast.walk(function) if _raises(n)}
    if raised and "Raises" not in text:
        faults.append(f"does not say that it raises {', '.join(sorted(raised))}")
    is_formula = name.startswith(FORMULAS) and len(arguments) > 1
    if is_formula and not ORIGIN.search(text + module_text):
        faults.append("a formula without its source")
    return faults


def _names_all(arguments: list[str], text: str) -> bool:
    return all(re.search(rf"\b{a}\b", text) for a in arguments)


def _raises(node: ast.AST) -> bool:
    return isinstance(node, ast.Raise) and node.exc is not None


def missing_places(text: str) -> list[str]:
    """Files, folders and things of modules that a text names between backticks, and that are
    not there. A path says where from the top; a file alone may lie anywhere."""
    missing = []
    for word in dict.fromkeys(re.findall(r"`([\w./*-]+)`", text)):
        if word.startswith(("core/", "pages/", "tests/")):
            module, _, name = word.removesuffix("/").rpartition(".")
            source = ROOT / f"{module}.py"
            there = any(ROOT.glob(word)) or (source.is_file() and name in source.read_text("utf-8"))
        elif re.fullmatch(r"\w+\.(py|js|css|html)", word):
            folders = (ROOT / "core", ROOT / "pages", ROOT / "tests")
            there = (ROOT / word).exists() or any(next(f.rglob(word), None) for f in folders)
        else:
            continue
        if not there:
            missing.append(word)
    return missing


@pytest.mark.parametrize("name", ["DEVELOPERS.md", "README.md"])
def test_every_place_that_a_page_names_is_there(name):
    assert missing_places((ROOT / name).read_text(encoding="utf-8")) == []


def test_a_place_that_is_gone_is_named():
    assert missing_places("`core/air/`, `core/sky/moon.py`, `plan.py`, `core/errors.OPTIONS`") == []
    gone = ["core/sits/", "core/sit/order.py", "brought_in.py", "core/errors.WISHES"]
    assert missing_places(" ".join(f"`{place}`" for place in gone)) == gone


def test_public_functions_are_documented():
    told = {f"{name}:{f.name}": doc_faults(name, f, said) for name, f, said in public_functions()}
    assert len(told) > 100
    assert {function: faults for function, faults in told.items() if faults} == {}


def test_every_module_says_what_it_is_for():
    silent = [
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "core").rglob("*.py")
        if path.read_text(encoding="utf-8").strip() and not ast.get_docstring(parsed(path))
    ]
    assert silent == []


def cited_keys(text: str) -> list[str]:
    """Keys in square brackets in the source part of a docstring."""
    sources = re.findall(r"Source:(.*?)(?:\n\s*\n|\n\s*[A-Z][a-z]+:|\Z)", text, re.DOTALL)
    found = [key for source in sources for key in CITED.findall(source)]
    return [key for key in found if key not in UNITS]


def test_cited_sources_are_in_the_table():
    cited = [(p.name, key) for p, text in docstrings() for key in cited_keys(text)]
    assert len(cited) >= 5
    assert [(n, key) for n, key in cited if key not in REFERENCES] == []


def test_every_source_has_a_text_and_says_how_it_was_seen():
    assert [k for k, source in REFERENCES.items() if len(source.text) <= 20] == []
    ways = {"read", "second-hand", "memory"}
    assert {k: source.seen for k, source in REFERENCES.items() if source.seen not in ways} == {}


def test_a_source_from_memory_says_so():
    assert citation("turner1970").endswith("(from memory)")
    assert "as quoted by ready.noaa.gov" in citation("pasquill1961")
    assert citation("rfc7946") == REFERENCES["rfc7946"].text


def test_an_unknown_key_is_named():
    with pytest.raises(KeyError, match="nobody1900"):
        citation("nobody1900")


GAPS = (
    "def f(a): ...",
    "def f(a, b, c, d):\n    'Takes a, b and c.'",
    "def f(a):\n    'Says nothing.'\n    raise BadWind('x')",
)


def test_a_gap_is_seen():
    for source in GAPS:
        assert len(doc_faults("core/sit/x.py", ast.parse(source).body[0])) == 1, source


def test_a_formula_without_a_source_is_seen():
    function = ast.parse("def f(a, b):\n    'A number of a.'").body[0]
    assert doc_faults("core/air/x.py", function) == ["a formula without its source"]
    assert cited_keys("Source: [nobody1900], eq. 3 [deg].") == ["nobody1900"]
