"""The start from nothing: a few answers, or an example to begin with. A plain form, that needs no script."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.viewer.markup import Markup, element
from soleplate.viewer.texts import Texts


@dataclass(frozen=True, slots=True)
class Question:
    """A question of the start; with `choices` one of them is the answer, else it is typed."""

    name: str
    usual: str
    choices: tuple[str, ...] = ()


QUESTIONS: Final = (
    Question("name", "Garden store"),
    Question("length", "3600"),
    Question("width", "2400"),
    Question("roof", "mono-pitch", ("mono-pitch", "duo-pitch", "level")),
    Question("low_height", "2000"),
    Question("pitch", "8"),
    Question("section", "45 x 70", ("38 x 63", "45 x 70", "45 x 95", "45 x 145")),
    Question("largest_bay", "600"),
    Question("door", "front", ("front", "right", "back", "left", "none")),
)
"""In the order in which a builder thinks of them; a length may carry its unit, as in a building file."""

NO_CLADDING: Final = "none"


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
    questions = (*QUESTIONS, Question("cladding", NO_CLADDING, (NO_CLADDING, *claddings)))
    begun = [
        element("li", element("a", title, href=f"?example={name}"))
        for name, title in sorted(examples.items())
    ]
    whole = [] if "" not in faults else [element("p", faults[""], class_="fault", role="alert")]
    form = element(
        "form",
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
        element("p", texts.start_note),
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
