"""The start from nothing: a few answers, or an example to begin with. A plain form, that needs no script."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.engine.building_file import Units
from soleplate.viewer.markup import Markup, element
from soleplate.viewer.words import Texts


@dataclass(frozen=True, slots=True)
class Question:
    """A question of the start; with `choices` one of them is the answer, else it is typed."""

    name: str
    usual: str
    choices: tuple[str, ...] = ()


def _questions(sizes: Mapping[str, str], sections: tuple[str, ...]) -> tuple[Question, ...]:
    return (
        Question("name", "Garden store"),
        Question("length", sizes["length"]),
        Question("width", sizes["width"]),
        Question("roof", "mono-pitch", ("mono-pitch", "duo-pitch", "level")),
        Question("low_height", sizes["low_height"]),
        Question("pitch", "6"),
        Question("section", sizes["section"], sections),
        Question("centres", sizes["centres"]),
        Question("door", "front", ("front", "right", "back", "left", "none")),
    )


QUESTIONS: Final[Mapping[Units, tuple[Question, ...]]] = {
    "mm": _questions(
        {"length": "3600", "width": "2400", "low_height": "2120", "section": "45 x 95", "centres": "600"},
        ("38 x 63", "45 x 70", "45 x 95", "45 x 145"),
    ),
    "in": _questions(
        {
            "length": "12 ft", "width": "8 ft", "low_height": "7 ft 2 in", "section": "1 1/2 x 3 1/2",
            "centres": "16",
        },
        ("1 1/2 x 2 1/2", "1 1/2 x 3 1/2", "1 1/2 x 5 1/2"),
    ),
}  # fmt: skip
"""By the unit of bare numbers, in the order in which a builder thinks of them; a length may carry its own
unit, as in a building file. Sections are usual planed sizes."""

NO_CLADDING: Final = "none"

ASK_IN: Final = "ask_in"
"""The member of a query that asks for the same questions in another unit."""


def units_of(answers: Mapping[str, str]) -> Units:
    """The unit that is asked in; millimetres unless the answers say inches."""
    return "in" if answers.get("units") == "in" else "mm"


def start_section(
    examples: Mapping[str, str],
    claddings: Sequence[str],
    answers: Mapping[str, str],
    faults: Mapping[str, str],
    texts: Texts,
    *,
    hidden: bool,
) -> Markup:
    """The questions with what was answered so far, and the examples; `claddings` are rules to choose from."""
    units = units_of(answers)
    other: Units = "mm" if units == "in" else "in"
    questions = (*QUESTIONS[units], Question("cladding", NO_CLADDING, (NO_CLADDING, *claddings)))
    begun = [
        element("li", element("a", title, href=f"?example={name}"))
        for name, title in sorted(examples.items())
    ]
    whole = [] if "" not in faults else [element("p", faults[""], class_="fault", role="alert")]
    turn = element(
        "button", texts.start_in[other], type="submit", name=ASK_IN, value=other, formnovalidate=True
    )
    form = element(
        "form",
        element("input", type="hidden", name="units", value=units),
        # A form that is sent by the Enter key is sent by its first button.
        element("button", texts.draw_it, type="submit", hidden=True),
        element("p", texts.start_notes[units], " ", turn, class_="asked-in"),
        *whole,
        *(_question(question, answers, faults, texts) for question in questions),
        element("p", element("button", texts.draw_it, type="submit", class_="main-button")),
        method="get",
        action="/",
        class_="questions",
    )
    return element(
        "main",
        element("h2", texts.start),
        form,
        *([element("h3", texts.start_from), element("ul", *begun, class_="begun")] if begun else []),
        element("div", id="unfinished", class_="live-only", hidden=True),
        id="start",
        aria_label=texts.start,
        hidden=hidden,
        tabindex="-1",
    )


def _question(
    question: Question, answers: Mapping[str, str], faults: Mapping[str, str], texts: Texts
) -> Markup:
    name, given = f"start-{question.name}", answers.get(question.name, question.usual)
    fault = faults.get(question.name)
    described = {"aria_describedby": f"{name}-fault", "aria_invalid": "true"} if fault else {}
    label = element("label", texts.questions[question.name], for_=name)
    if question.choices:
        options = [
            element(
                "option",
                texts.answers.get(choice, choice.replace("-", " ")),
                value=choice,
                selected=choice == given,
            )
            for choice in question.choices
        ]
        entry = element("select", *options, id=name, name=question.name, **described)
    else:
        entry = element(
            "input", id=name, name=question.name, value=given, autocomplete="off", required=True, **described
        )
    said = element("small", fault, id=f"{name}-fault", class_="fault") if fault else Markup("")
    return element("p", label, entry, said)
