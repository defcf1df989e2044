"""A fault put on purpose, and where it goes: a file, something named in it, a bit of its text.

The text is found by its words and signs inside the function, class or constant that is
named, whatever the lines and blanks between them: a formatter, or a function that moves to
another file, costs no fault.
"""

import ast
import functools
import itertools
import re
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SOUGHT = ("core", "pages", "dashboard.py")
CLOSING = frozenset(")]}")
QUOTES = frozenset("'\"")


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault: its name, where it goes, what stands there, what is put there, its tests.

    `place` is "file::name", the name that of a function, class or constant ("Class.method",
    "outer.inner"), or the file alone. One of the tests, files or ids, must turn red.
    """

    name: str
    place: str
    sound: str
    faulty: str
    tests: tuple[str, ...]

    @property
    def file(self) -> str:
        return self.place.partition("::")[0]

    @property
    def inside(self) -> str:
        return self.place.partition("::")[2]


class Misplaced(Exception):
    """A fault that can't be put in; says why."""


def put_in(fault: Fault, house: Path) -> tuple[Path, str]:
    """The file of a house that changes, and its text with the fault in it.

    Where the named thing is gone from its file, the one other file that has it, with the
    text, is taken. Raises: Misplaced.
    """
    home = house / fault.file
    counts = {home: len(spans(home, fault))}
    if not counts[home] and fault.inside:
        others = (p for p in program_files(house) if p != home)
        counts |= {path: len(spans(path, fault)) for path in others}
    if sum(counts.values()) != 1:
        raise Misplaced(f"its text is found {sum(counts.values())} times in {fault.place}")
    path = next(path for path, count in counts.items() if count)
    return path, changed(path, fault)


def changed(path: Path, fault: Fault) -> str:
    """The text of a file with a fault in it. Raises: Misplaced where it is Python no more."""
    text = read(path)
    ((start, end),) = spans(path, fault)
    text = text[:start] + reindented(fault, text, start, end) + text[end:]
    if path.suffix == ".py":
        try:
            ast.parse(text)
        except SyntaxError as error:
            raise Misplaced(f"{path.name} is no Python with it: {error}") from None
    return text


def spans(path: Path, fault: Fault) -> list[tuple[int, int]]:
    """Where a fault's sound text stands in a file."""
    if not path.exists():
        return []
    text, sought = read(path), pattern(fault.sound)
    parts = named_parts(path).get(fault.inside, ()) if fault.inside else ((0, len(text)),)
    found = {m.span() for a, b in parts for m in sought.finditer(text, a, b)}
    return sorted(found)


def program_files(house: Path) -> list[Path]:
    return [
        p
        for name in SOUGHT
        for p in ((house / name).rglob("*.py") if "." not in name else [house / name])
    ]


def read(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def named_parts(path: Path) -> dict[str, tuple[tuple[int, int], ...]]:
    """Where each named function, class and constant of a file begins and ends."""
    return _parts(read(path)) if path.suffix == ".py" else {}


@functools.lru_cache(maxsize=1024)  # every file of the program
def _parts(text: str) -> dict[str, tuple[tuple[int, int], ...]]:
    starts = [0, *itertools.accumulate(len(line) for line in text.splitlines(keepends=True))]
    parts: dict[str, tuple[tuple[int, int], ...]] = {}

    def walk(node: ast.AST, above: str) -> None:
        for child in ast.iter_child_nodes(node):
            names = names_of(child)
            for name in names:
                own = f"{above}{name}"
                first = min([child.lineno, *(d.lineno for d in decorators(child))])
                here = (starts[first - 1], starts[child.end_lineno])
                parts[own] = (*parts.get(own, ()), here)
            is_room = isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef)
            walk(child, f"{above}{child.name}." if is_room else above)

    walk(ast.parse(text), "")
    return parts


def names_of(node: ast.AST) -> list[str]:
    """What a node of a module or class is called: a function, a class, a constant."""
    if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
        return [node.name]
    if isinstance(node, ast.Assign):
        return [n.id for t in node.targets for n in ast.walk(t) if isinstance(n, ast.Name)]
    if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
        return [node.target.id]
    return []


def decorators(node: ast.AST) -> list[ast.expr]:
    return getattr(node, "decorator_list", [])


@functools.lru_cache(maxsize=1024)
def pattern(sound: str) -> re.Pattern[str]:
    """A text as its words and signs: blanks, line ends, last commas and kind of quote are free."""
    pieces = re.findall(r"\w+|[^\w\s]", sound)
    said = ""
    for before, piece in itertools.pairwise(["", *pieces]):
        if before:
            both_words = before[-1:].isalnum() and piece[:1].isalnum()
            gap = r"\s+" if both_words else r"\s*"
            said += r"\s*,?\s*" if piece in CLOSING and before != "," else gap
        said += "['\"]" if piece in QUOTES else re.escape(piece)
    return re.compile(said)


def reindented(fault: Fault, text: str, start: int, end: int) -> str:
    """The faulty text, its lines after the first moved as those of the text that was found."""
    sound, found = fault.sound, text[start:end]
    lead = len(sound) - len(sound.lstrip(" "))
    first, *rest = fault.faulty[lead if fault.faulty[:lead].isspace() else 0 :].split("\n")
    by = 0
    if "\n" in sound and "\n" in found:
        by = indent(found) - indent(sound)
    elif lead:
        by = start - (text.rfind("\n", 0, start) + 1) - lead
    moved = (" " * by + x if by > 0 else x.removeprefix(" " * -by) for x in rest)
    return "\n".join([first, *moved])


def indent(text: str) -> int:
    """How far in the second line of a text begins."""
    line = text.split("\n")[1]
    return len(line) - len(line.lstrip())
