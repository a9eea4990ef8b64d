"""The widget that asks a set of questions; the page marks the answers without asking Python."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import traitlets

from fizzplate.questions import DEFAULT_SET
from fizzplate.views.quiz.question_data import plain_ideas, plain_item, plain_question
from fizzplate.views.web import Widget, has_room, style_text
from fizzplate.views.workshop import plain_species
from fizzplate.words import DEFAULT_WORDING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from fizzplate.questions.practice import PracticeItem
    from fizzplate.questions.question_types import Question
    from fizzplate.words import Wording

NO_MORE = "There are no more questions like this one."
MAX_AGAIN = 150  # questions that come back at once


class Quiz(Widget):
    """The widget that asks one set of questions.

    Parameters
    ----------
    like
        Called with what is wanted, a maker's name, texts that are not to come again, an idea and a seed;
        gives another question, if there is one.
    practise
        Called with the record of a practice; gives what it asks next, if anything is left.
    watch
        Called with cells to watch, as links write them.
    save
        Called with "qti" or "csv"; gives a file's name, type and content, if there is one.
    load
        Called with the name and the content of a file that was opened.
    reload
        Called with the same of a file whose questions are asked already, since the browser kept them.
    missing
        Called when the address is of an opened file that this browser has not kept.
    """

    module = "quiz/quiz.js"
    render = "renderQuiz"

    species = traitlets.Dict(help="Atoms and charge of what an equation may hold.").tag(sync=True)
    ideas = traitlets.Dict(help="Ideas of learners by their numbers.").tag(sync=True)
    questions: traitlets.List[dict[str, Any]] = traitlets.List(help="The set.").tag(sync=True)
    name = traitlets.Unicode(help="Under which the answers are kept.").tag(sync=True)
    quiz_style = traitlets.Unicode(DEFAULT_SET.style, help="A name in STYLES of the set's.").tag(
        sync=True
    )
    turn = traitlets.Int(0, help="Counts the sets; a change begins one.").tag(sync=True)
    link_is_open = traitlets.Bool(help="Whether the page's link has been followed.").tag(sync=True)
    busy = traitlets.Bool(help="Whether another set is being made.").tag(sync=True)
    minutes = traitlets.Int(DEFAULT_SET.minutes, help="Of the clock.").tag(sync=True)
    watch = traitlets.Unicode(help="Cells that the learner wants to watch.").tag(sync=True)
    has_room = traitlets.Bool(
        help="Whether the server of this page can gather the answers of a class's phones."
    ).tag(sync=True)
    watch_count = traitlets.Int(0, help="Counts the cells that were shown.").tag(sync=True)

    def __init__(
        self,
        *,
        like: Callable[[dict[str, Any]], Question | None],
        practise: Callable[[list[Any]], PracticeItem | None],
        watch: Callable[[str], None],
        save: Callable[[str], tuple[str, str, bytes] | None],
        load: Callable[[str, bytes], None],
        reload: Callable[[str, bytes], None],
        missing: Callable[[], None],
    ) -> None:
        super().__init__(
            style=style_text(), species=plain_species(), ideas=plain_ideas(), has_room=has_room()
        )
        self._like, self._save, self._missing = like, save, missing
        self._practise = practise
        self._load, self._reload = load, reload

        def on_watch(change: dict[str, Any]) -> None:
            if change["new"]:
                watch(change["new"])

        self.observe(on_watch, names="watch")
        self.on_msg(self._on_message)

    def ask(
        self,
        questions: Iterable[Question],
        name: str,
        *,
        style: str = DEFAULT_SET.style,
        minutes: int = DEFAULT_SET.minutes,
        wording: Wording = DEFAULT_WORDING,
    ) -> None:
        """Ask a set under a name; the same name brings the answers back."""
        with self.hold_sync():
            self.ideas = plain_ideas(wording)
            self.questions = [plain_question(question) for question in questions]
            self.quiz_style = style
            self.minutes = minutes
            self.name = name
            self.turn += 1
            self.busy = False

    def confirm_watch(self) -> None:
        """Let the page know that the cell to watch is shown."""
        with self.hold_sync():
            self.watch = ""
            self.watch_count += 1

    def say(self, sentence: str) -> None:
        """Show a sentence with the questions."""
        self.send({"said": sentence})

    def refuse_file(self, sentence: str) -> None:
        """Say why a file cannot be opened."""
        self.send({"said": sentence, "refused": True})

    def _on_message(self, _: object, message: dict[str, Any], buffers: list[Any]) -> None:
        """Answer the page: other questions, what practice asks next, files to save and files opened."""
        if "like" in message:
            more = self._like(message)
            self.send({"more": plain_question(more)} if more else {"said": NO_MORE})
        elif isinstance(message.get("again"), list):
            again = [
                self._like(each) if isinstance(each, dict) else None
                for each in message["again"][:MAX_AGAIN]
            ]
            self.send({"round": [plain_question(each) if each else None for each in again]})
        elif isinstance(message.get("practise"), list):
            item = self._practise(message["practise"])
            self.send({"item": plain_item(item) if item else None})
        elif message.get("save") in {"qti", "csv"}:
            file = self._save(message["save"])
            if file is not None:
                self.send({"file": file[0], "type": file[1]}, buffers=[file[2]])
        elif "missing" in message:
            self._missing()
        elif "open" in message and buffers:
            self._load(str(message["open"])[:80], bytes(buffers[0]))
        elif "reopen" in message and buffers:
            self._reload(str(message["reopen"])[:80], bytes(buffers[0]))
