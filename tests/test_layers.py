"""The house plan, read from the files: imports run one way, and files stay small."""

import ast
import collections
import functools
import re
import subprocess
import sys
from pathlib import Path, PurePosixPath

ROOT = Path(__file__).resolve().parents[1]
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "requirements.txt",
    "dashboard.py",
    "core",
    "pages",
    "tests",
    "demo_property.json",
}
LEFT_BY_TOOLS = {"__pycache__", "venv"}

# right to left: a module may import its own floor and the ones below it
FLOORS = (
    "core.references",
    "core.errors",
    "core.harmless",
    "core.units",
    "core.angles",
    "core.ground",
    "core.ground.files",
    "core.ground.exchange",
    "core.ground.drawing",
    "core.ground.heights",
    "core.weather",
    "core.weather.reading",
    "core.weather.clocks",
    "core.weather.tables",
    "core.weather.readers",
    "core.weather.files",
    "core.weather.services",
    "core.sky",
    "core.air",
    "core.land",
    "core.keep",
    "core.sit",
    "core.judge",
    "core.answer",
    "core.log",
    "core.party",
    "core.season",
    "core.chores",
    "core.chance",
    "core.criticism",
    "core.say",
    "core.learn",
    "core.show",
    "core.cli",
    "core.__main__",
    "pages.ui",
    "pages",
    "dashboard",
)
NETWORK = (
    "requests",
    "requests_cache",
    "urllib.request",
    "urllib3",
    "http",
    "socket",
    "ssl",
    "httpx",
    "aiohttp",
    "ftplib",
    "smtplib",
    "websockets",
    "asyncio",
)
NETWORK_HOME = "core/weather/services/service.py"
CACHE_HOME = "pages/ui/data.py"
MODULE_LINES, PAGE_LINES = 300, 150
FUNCTION_LINES, MEDIAN_FUNCTION_LINES = 40, 10
ROOM_MODULES, FORMATTER_SKIPS = 20, 20


def program_files() -> list[Path]:
    files = [*(ROOT / "core").rglob("*.py"), *(ROOT / "pages").rglob("*.py")]
    return sorted(files + [path for path in [ROOT / "dashboard.py"] if path.exists()])


FILES = program_files()
NAMES = [path.relative_to(ROOT).as_posix() for path in FILES]


@functools.cache
def parsed(source: str) -> ast.Module:
    return ast.parse(source)


def module_name(name: str) -> str:
    return name.removesuffix(".py").replace("/", ".").removesuffix(".__init__")


def floor_of(module: str) -> int | None:
    """Number of a module's floor; None for what is not of this house."""
    if module == "core":
        return -1
    matches = [i for i, f in enumerate(FLOORS) if module == f or module.startswith(f + ".")]
    if matches:
        return max(matches, key=lambda i: len(FLOORS[i]))
    return len(FLOORS) if module.split(".")[0] in {"core", "pages", "dashboard"} else None


@functools.cache
def is_module(name: str) -> bool:
    """Whether a name is that of a folder or a file of this house."""
    path = ROOT / name.replace(".", "/")
    return path.exists() or path.with_name(f"{path.name}.py").exists()


def imported(tree: ast.AST, module: str) -> list[str]:
    """Every module that a file imports, those inside functions too."""
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:  # relative
                package = module.split(".")[: -node.level]
                base = ".".join([*package, base]).strip(".")
            # `from core import units` names a module, `from core.units import X` does not
            names = [f"{base}.{alias.name}" for alias in node.names]
            found += names if base in {"core", "pages"} else [base]
            found += [name for name in names if is_module(name)]
        elif _is_import_call(node):
            found.append(node.args[0].value)
    return found


def _is_import_call(node: ast.AST) -> bool:
    if not (isinstance(node, ast.Call) and node.args):
        return False
    name = getattr(node.func, "attr", getattr(node.func, "id", ""))
    first = node.args[0]
    return name in {"import_module", "__import__"} and isinstance(
        getattr(first, "value", None), str
    )


def arrows_broken(source: str, name: str) -> list[str]:
    module = module_name(name)
    own = floor_of(module)
    broken = []
    for target in imported(parsed(source), module):
        floor = floor_of(target)
        if floor is not None and floor > own:
            broken.append(f"{module} imports {target}")
        if target.split(".")[0] == "streamlit" and module.startswith("core"):
            broken.append(f"{module} imports streamlit")
        opens = any(target == n or target.startswith(n + ".") for n in NETWORK)
        if opens and name != NETWORK_HOME:
            broken.append(f"{module} imports {target}: only {NETWORK_HOME} opens a connection")
    return broken


def screen_faults(source: str, name: str) -> list[str]:
    """Streamlit calls that this program does without, and why."""
    faults = []
    for node in ast.walk(parsed(source)):
        called = getattr(node, "attr", getattr(node, "id", ""))
        if isinstance(node, ast.alias):
            called = node.name
        if called == "rerun":
            faults.append("st.rerun: change state in callbacks")
        if called == "navigation":
            faults.append("st.navigation: a first visit by a page's own address breaks")
        if called in {"cache_data", "cache_resource"} and name != CACHE_HOME:
            faults.append(f"{called}: files and network are cached in {CACHE_HOME} only")
        if isinstance(node, ast.keyword) and node.arg == "unsafe_allow_javascript":
            faults.append("unsafe_allow_javascript")
    return faults


def code_lines(function: ast.AST, lines: list[str]) -> int:
    """Lines of a function without its docstring, blank lines and comments."""
    body = function.body[1:] if ast.get_docstring(function) else function.body
    if not body:
        return 0
    span = lines[body[0].lineno - 1 : function.end_lineno]
    return sum(1 for line in span if line.strip() and not line.strip().startswith("#"))


@functools.cache
def functions(source: str) -> list[tuple[ast.FunctionDef, int]]:
    """Functions of a file, and how many lines of code each has."""
    lines = source.splitlines()
    found = (node for node in ast.walk(parsed(source)) if isinstance(node, ast.FunctionDef))
    return [(node, code_lines(node, lines)) for node in found]


@functools.cache
def source_of(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def found(check, names=NAMES) -> dict:
    """What a check (source, name) has to say, by the file at fault."""
    told = {name: check(source_of(name), name) for name in names}
    return {name: said for name, said in told.items() if said}


def too_long(source: str, name: str) -> str:
    is_page = name == "dashboard.py" or re.fullmatch(r"pages/[^/]*", name)
    lines, most = len(source.splitlines()), PAGE_LINES if is_page else MODULE_LINES
    return f"{lines} lines, at most {most}" if lines > most else ""


def long_functions(source: str, _name: str) -> dict[str, int]:
    return {f.name: n for f, n in functions(source) if n > FUNCTION_LINES}


def full_rooms(names) -> dict[str, int]:
    """Folders that hold too many modules, and how many."""
    paths = [PurePosixPath(name) for name in names]
    rooms = collections.Counter(str(p.parent) for p in paths if p.name != "__init__.py")
    return {room: n for room, n in rooms.items() if n > ROOM_MODULES}


@functools.cache
def given_by(module: str) -> frozenset[str] | None:
    """Names that a module of this house has once it is loaded; None for another's."""
    home = module.replace(".", "/")
    file = next((f for f in (f"{home}.py", f"{home}/__init__.py") if f in NAMES), None)
    if file is None:
        return None
    inside = [name.removeprefix(f"{home}/") for name in NAMES if name.startswith(f"{home}/")]
    names = {name.partition("/")[0].removesuffix(".py") for name in inside}
    for node in parsed(source_of(file)).body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            names.add(node.name)
            continue
        for one in ast.walk(node):
            if isinstance(one, ast.alias):
                names.add(one.asname or one.name)
            elif isinstance(one, ast.Name):
                names.add(one.id)
    return frozenset(names)


def missing_names(source: str, _name: str) -> list[str]:
    """What a file asks of modules of this house that they have not: found only once it runs."""
    return [
        f"{alias.name} of {node.module}"
        for node in ast.walk(parsed(source))
        if isinstance(node, ast.ImportFrom) and not node.level
        if (known := given_by(node.module)) is not None
        for alias in node.names
        if alias.name not in known
    ]


def twins(sources: dict[str, str]) -> dict[str, list[str]]:
    """Names of classes that more than one file has. Args: sources by file."""
    where = collections.defaultdict(list)
    for name, source in sources.items():
        for twin in re.findall(r"^class ([A-Z]\w*)", source, re.MULTILINE):
            where[twin].append(name)
    return {twin: files for twin, files in where.items() if len(files) > 1}


def test_imports_run_one_way():
    assert found(arrows_broken) == {}


def test_what_is_imported_is_there():
    assert found(missing_names) == {}
    gone = "from core.units import M_PER_YD, M_PER_MOON\nfrom core import units, moons\n"
    assert missing_names(gone, "") == ["M_PER_MOON of core.units", "moons of core"]


def test_every_module_has_its_place_in_the_plan():
    assert [name for name in NAMES if floor_of(module_name(name)) == len(FLOORS)] == []


def test_screens_keep_to_the_rules():
    assert found(screen_faults, [n for n in NAMES if not n.startswith("core")]) == {}


def test_files_stay_small():
    assert found(too_long) == {}


def test_functions_stay_small():
    assert found(long_functions) == {}


def test_rooms_stay_small():
    assert full_rooms(NAMES) == {}


def test_the_formatter_is_kept_out_of_tables_of_numbers_only():
    skips = found(lambda source, _name: source.count("# fmt: " + "skip"))
    assert sum(skips.values()) <= FORMATTER_SKIPS, skips


def test_classes_have_a_name_each():
    assert twins({name: source_of(name) for name in NAMES}) == {}
    assert twins({"a": "class Turn:", "b": "class Turn(Air):", "c": "class _Turn:"}) == {
        "Turn": ["a", "b"]
    }


def test_most_functions_are_short():
    sizes = sorted(n for name in NAMES for _, n in functions(source_of(name)))
    assert sizes[len(sizes) // 2] <= MEDIAN_FUNCTION_LINES


def test_top_level_holds_eight_things():
    seen = {p.name for p in ROOT.iterdir() if not p.name.startswith(".")} - LEFT_BY_TOOLS
    assert seen == TOP_LEVEL


# --- the checks themselves can fail ---


BROKEN_ARROWS = (
    ("core/air/drift.py", "from core.sit import rank"),
    ("core/air/drift.py", "import core.sit.rank"),
    ("core/air/drift.py", "def f():\n    from core.sit.rank import order"),
    ("core/ground/plan.py", "from core.weather.hours import Hours"),
    ("core/sky/daylight.py", "from core.air import spread"),
    ("core/keep/chores.py", "from core.sit import clock"),
    ("core/units.py", "from core import angles"),
    ("core/show/map.py", "from pages.ui import frame"),
    ("core/show/map.py", "import streamlit as st"),
    ("core/ground/store.py", "import requests"),
    ("core/weather/readers/nws.py", "def f():\n    import urllib.request"),
    ("core/weather/readers/nws.py", "import importlib\nimportlib.import_module('socket')"),
    ("pages/ui/frame.py", "from pages import season"),
    ("core/air/drift.py", "from ..sit import rank"),
)
SOUND_ARROWS = (
    ("core/sit/rank.py", "from core.air import drift\nfrom core.units import M_PER_YD"),
    ("core/weather/services/service.py", "import requests_cache"),
    ("core/air/drift.py", "from urllib.parse import quote"),
    ("core/show/map.py", "from core.say.words import said"),
    ("pages/Season_winds.py", "import streamlit as st\nfrom pages.ui import frame"),
)
SCREEN_FAULTS = (
    "st.rerun()",
    "st.navigation([])",
    "@st.cache_data\ndef f(): ...",
    "from streamlit import rerun as again\nagain()",
    "st.html('', unsafe_allow_javascript=True)",
)


def test_a_broken_arrow_is_seen_and_a_sound_one_let_through():
    assert [case for case in BROKEN_ARROWS if not arrows_broken(case[1], case[0])] == []
    assert [case for case in SOUND_ARROWS if arrows_broken(case[1], case[0])] == []


def test_a_screen_fault_is_seen():
    assert [s for s in SCREEN_FAULTS if len(screen_faults(s, "pages/Log.py")) != 1] == []


def test_what_is_too_large_is_seen():
    source = "def f():\n    'said'\n    # why\n\n" + "    x = 1\n" * 50
    assert long_functions(source, "") == {"f": 50}
    assert too_long("x = 1\n" * 151, "pages/log.py") == "151 lines, at most 150"
    assert too_long("x = 1\n" * 301, "pages/ui/log.py") == "301 lines, at most 300"
    assert full_rooms([f"core/sit/m{i}.py" for i in range(21)]) == {"core/sit": 21}


def test_the_answer_is_imported_without_the_heavy_libraries():
    """They cost a second at half past four; what needs them imports them when it does."""
    heavy = ("pvlib", "pandas", "plotly", "scipy", "requests")
    code = (
        "import sys, core.answer.one_sit, core.say.two_hunters, core.show.pocket\n"
        "import core.__main__\n"
        f"print([m for m in {heavy!r} if m in sys.modules])"
    )
    run = [sys.executable, "-c", code]
    found = subprocess.run(run, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    assert found.strip() == "[]"
