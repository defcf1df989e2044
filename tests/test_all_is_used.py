"""Nothing in the program is there for tests alone: each name is reached from what runs.

What runs is the text of modules outside functions, and every function that is named in it, or
in a function that is reached. Names are taken by themselves, whatever they are looked up on, so
that one that is used anywhere counts for all of its name.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
CALLED_BY_LIBRARIES = {"main", "_print_message"}  # argparse calls the second
Part = tuple[str, str, set[str]]  # a name, where it is defined, the names in it


def named_in(node: ast.AST) -> set[str]:
    """The names that a piece of a program reads, and words that may be names."""
    found = set()
    for one in ast.walk(node):
        if isinstance(one, ast.Name) and isinstance(one.ctx, ast.Load):
            found.add(one.id)
        elif isinstance(one, ast.Attribute):
            found.add(one.attr)
        elif isinstance(one, ast.Constant) and isinstance(one.value, str):
            found.add(one.value.rpartition(":")[2])  # "module:function" of a command
    return found


def own(name: str) -> str:
    """A name, or none where Python itself reads it."""
    return "" if name.startswith("__") else name


def parts_of(body: list[ast.stmt], where: str) -> Iterator[Part]:
    """What a module or class defines; what it does itself has no name."""
    for node in body:
        place = f"{where}:{node.lineno}"
        if isinstance(node, ast.FunctionDef):
            yield own(node.name), place, named_in(node)
        elif isinstance(node, ast.ClassDef):
            yield node.name, place, set()
            yield "", place, set().union(*map(named_in, [*node.decorator_list, *node.bases]))
            yield from parts_of(node.body, where)
        elif isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
            yield own(node.targets[0].id), place, named_in(node.value)
        elif not isinstance(node, ast.Import | ast.ImportFrom):
            yield "", place, named_in(node)


def unused(sources: dict[str, str], told: set[str]) -> list[str]:
    """Names that nothing reaches. Args: sources by file; names told by templates."""
    parts = [p for file, text in sources.items() for p in parts_of(ast.parse(text).body, file)]
    reached, left = told | CALLED_BY_LIBRARIES | {""}, parts
    while here := [part for part in left if part[0] in reached]:
        left = [part for part in left if part[0] not in reached]
        reached = reached.union(*(names for _, _, names in here))
    return [f"{place} {name}" for name, place, _ in left]


def test_every_name_is_reached_by_the_program():
    files = [*(ROOT / "core").rglob("*.py"), *(ROOT / "pages").rglob("*.py"), ROOT / "dashboard.py"]
    sources = {str(f.relative_to(ROOT)): f.read_text(encoding="utf-8") for f in files}
    pages = "".join(f.read_text(encoding="utf-8") for f in (ROOT / "core").rglob("*.html"))
    assert unused(sources, set(re.findall(r"\w+", pages))) == []


def test_what_only_the_unused_use_is_unused_too():
    source = "def a():\n    return b()\n\ndef b():\n    return c\n\nc = 1\nd = 2\nprint(d)\n"
    assert unused({"x.py": source}, set()) == ["x.py:1 a", "x.py:4 b", "x.py:7 c"]
