"""Eight lessons on this ground: a picture, a few lines, one thing to try."""

import streamlit as st

from core.learn.lessons import LESSONS, Lesson, Picture, Room, Task, lesson
from core.show.lesson_picture import lesson_map
from core.sit.scene import Scene
from pages.ui import frame
from pages.ui.choice import one_of
from pages.ui.ground_sheet import picture
from pages.ui.learn import parts

WORDS = (
    "wind-from",
    "like",
    "held",
    "trail",
    "before-shot",
    "just-off",
    "way-in",
    "swirls",
    "slope-air",
    "common-practice",
)
NUMBERS = [str(i + 1) for i in range(len(LESSONS))]
NUMBER = "learn_lesson"


def show(scene: Scene) -> tuple[str, ...]:
    """The part. Args: the ground. Returns: keys of the words it uses."""
    number = one_of(
        st.segmented_control,
        "Lesson",
        NUMBERS,
        default="1",
        key=NUMBER,
        label_visibility="collapsed",
    )
    key = list(LESSONS)[NUMBERS.index(number)]
    told = lesson(Room(scene, parts.teaching_day(scene.ground)), key)
    st.header(f"{number}. {told.title}", anchor=False)
    left, right = st.columns(2, gap="medium")
    with left:
        _picture(scene, told.picture)
    with right:
        with st.container(gap="xsmall"):
            for line in told.says:
                st.markdown(frame.plain(line))
        if told.task is not None:
            _task(told.task, key)
        _apart(told)
        if number != NUMBERS[-1]:
            st.button("Next lesson", on_click=_next, args=(number,), width="stretch")
    return WORDS


def _next(number: str) -> None:
    st.session_state[NUMBER] = str(int(number) + 1)


def _picture(scene: Scene, drawn: Picture) -> None:
    picture(lambda width: lesson_map(scene, drawn, width=width), "lesson_map")
    if drawn.caption:
        st.caption(frame.plain(drawn.caption))


def _task(task: Task, key: str) -> None:
    """One thing to try. The key holds the question, so that a new one starts blank."""
    st.markdown(f"**Try it.** {frame.plain(task.question)}")
    said = st.radio(
        "Your answer",
        task.choices,
        index=None,
        key=f"try-{key}-{task.question}",
        format_func=frame.plain,
        label_visibility="collapsed",
    )
    if said is None:
        return
    right = task.choices.index(said) == task.right
    st.markdown(f"**{'Right.' if right else 'Not so.'}** {frame.plain(task.because)}")


def _apart(told: Lesson) -> None:
    """What is physics, what common practice, and what nobody has tested."""
    for word, line in (
        ("Physics", told.physics),
        ("Common practice", told.practice),
        ("Nobody has tested", told.untested),
    ):
        st.caption(f"**{word}.** {frame.plain(line)}")
