"""Names cut to the room there is, so that no two of them read alike."""

from collections.abc import Sequence


def fitted(names: Sequence[str], letters: int) -> list[str]:
    """Names of at most so many letters, in their order.

    Args: the names, each at most once; most letters, at least 6.
    Returns: a name that is too long is cut at its end; where two would then read alike,
    both keep their ends and lose their middles.
    """
    cut = [_head(name, letters) for name in names]
    return [
        text if cut.count(text) == 1 or len(name) <= letters else _ends(name, letters)
        for name, text in zip(names, cut, strict=True)
    ]


def _head(name: str, letters: int) -> str:
    return name if len(name) <= letters else f"{name[: letters - 1].rstrip()}…"


def _ends(name: str, letters: int) -> str:
    first = letters // 2 - 1
    return f"{name[:first].rstrip()}…{name[first + 1 - letters :].lstrip()}"
