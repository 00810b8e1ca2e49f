"""Questions asked one by one in a terminal or through a pipe, with a way back.

Each answer is read at once; one that cannot be taken is asked for again, with the reason. To go back a question the
whole is begun anew and answered as before, silently, up to the one before: so what is asked may depend on every answer.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from io import TextIOWrapper
from pathlib import Path
from typing import Final, TypeVar

from cardmaker.jobs.editor_schemas import with_schema_line
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.jobs.pattern_making import refuse_to_replace
from cardmaker.model.problems import on_one_line
from cardmaker.reading.nodes import as_name
from cardmaker.reading.source_text import invisible_sign, sign_in_words
from cardmaker.wording import question_words
from cardmaker.wording.question_words import Choice, Question

LONGEST_ANSWER: Final = 4000

T = TypeVar("T")


class _GoingBack(Exception):
    """The question before is wanted again."""


class Dialogue:
    """The answers so far, and how many of them have been given again on the way back to the open question."""

    def __init__(self) -> None:
        self._answers: list[str] = []
        self._given = 0
        self._earlier: dict[str, str] = {}

    def run(self, questions: Callable[[Dialogue], T]) -> T:
        """Asks until all is answered. Raises WrongUsage when nobody answers any more."""
        if isinstance(sys.stdin, TextIOWrapper):
            sys.stdin.reconfigure(errors="surrogateescape")
        self.tell([question_words.WELCOME])
        while True:
            self._given = 0
            try:
                return questions(self)
            except _GoingBack:
                self._answers.pop()

    def tell(self, lines: Iterable[str]) -> None:
        """Lines that stand between two questions; not told a second time on the way back."""
        if self._given == len(self._answers):
            for line in lines:
                print(on_one_line(line))

    def ask(self, question: Question, read: Callable[[str], T]) -> T:
        """The answer, as ``read`` understands it, which raises ValueError with the reason why not."""
        if self._given < len(self._answers):
            try:
                answer = read(self._answers[self._given])
                self._given += 1
                return answer
            except ValueError:  # what was right is no longer: a file has come meanwhile
                del self._answers[self._given :]
        while True:
            offered = self._earlier.get(question.text, question.default)
            self.tell(question._replace(default=offered).lines)
            text = " ".join(_typed().split()) or offered
            if text == question_words.WHY:
                self.tell([f"  {question.explanation or question_words.NO_MORE_TO_SAY}"])
            elif text.casefold() == question_words.BACK:
                self._go_back()
            else:
                try:
                    return self._taken(question, _checked(text), read)
                except ValueError as error:
                    self._earlier.pop(question.text, None)
                    self.tell([f"  {error}"])

    def choose(self, question: Question) -> str:
        """The word of the choice that was taken."""
        return self.ask(question, str)

    def _taken(self, question: Question, text: str, read: Callable[[str], T]) -> T:
        text = _chosen(text, question.choices) if question.choices else text
        answer = read(text)
        self._answers.append(text)
        self._given += 1
        if question.remembered:
            self._earlier[question.text] = text
        return answer

    def _go_back(self) -> None:
        if self._answers:
            raise _GoingBack
        self.tell([f"  {question_words.AT_THE_FIRST}"])

    def agreed(self, files: Mapping[Path, str]) -> dict[Path, bytes]:
        """The files as they were shown and agreed to. Raises WrongUsage when they are not, or one is there already."""
        files = {path: with_schema_line(path, text) for path, text in files.items()}
        for path, text in files.items():
            self.tell([f"{path}:", *(f"  {line}".rstrip() for line in text.splitlines())])
        if self.choose(question_words.write_question([str(path) for path in files])) == question_words.NO:
            raise WrongUsage(question_words.NOT_WRITTEN)
        for path in files:
            refuse_to_replace(path)
        return {path: text.encode() for path, text in files.items()}


def _typed() -> str:
    """One line as typed. Through a pipe nothing shows what was typed, so it is written after the question.

    Raises WrongUsage when there is no more to come.
    """
    try:
        if sys.stdin.isatty():
            return input("> ")
        line = sys.stdin.readline()
    except EOFError:
        line = ""
        print()
    if not line:
        raise WrongUsage(question_words.NOT_ALL)
    print(on_one_line(f"> {line.strip()}".rstrip()))
    return line


def _checked(answer: str) -> str:
    if not answer:
        raise ValueError(question_words.NEEDS_AN_ANSWER)
    if len(answer) > LONGEST_ANSWER:
        raise ValueError(question_words.too_long(LONGEST_ANSWER))
    if sign := invisible_sign(answer):
        raise ValueError(question_words.no_sign(sign_in_words(sign)))
    return as_name(answer)


def _chosen(text: str, choices: Sequence[Choice]) -> str:
    """The choice that a number, its word, or its first letters mean."""
    if text.isascii() and text.isdecimal():
        number = int(text[:4])
        if 1 <= number <= len(choices):
            return choices[number - 1].word
        raise ValueError(question_words.no_choice(text, choices))
    typed = text.casefold()
    if exact := next((choice.word for choice in choices if choice.word.casefold() == typed), ""):
        return exact
    fitting = [
        choice.word
        for choice in choices
        if choice.word.casefold().startswith(typed) or choice.meaning.casefold().startswith(typed)
    ]
    if len(fitting) == 1:
        return fitting[0]
    raise ValueError(
        question_words.several_choices(text, fitting) if fitting else question_words.no_choice(text, choices)
    )
