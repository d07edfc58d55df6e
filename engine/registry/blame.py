"""Calls into plugins, so that whatever goes wrong in one is told as that plugin's fault."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Final, TypeVar

from pydantic import BaseModel

from soleplate.engine.building_file import ReadOnlyError
from soleplate.engine.registry.errors import Breakage, Interrupted, PluginLoadError, RuleError, sentence
from soleplate.engine.registry.patience import Patience, limited

Item = TypeVar("Item")

MOST_ANSWERS: Final = 40_000
"""Things in one answer: what goes on for ever is cut off before it fills the memory."""


@contextmanager
def blamed(
    plugin: str,
    rule: str,
    *,
    version: str = "",
    wall: str | None = None,
    patience: Patience | None = None,
) -> Iterator[None]:
    """Call a plugin within: what it raises names it; a `RuleError` passes as it is.

    Args:
        plugin: its name.
        rule: its rule, layer, exporter or hook.
        version: of the plugin.
        wall: what it is asked about.
        patience: how long it may take; as long as it likes unless given.

    Raises:
        RuleError: it failed, ended the program, or took too long.
        Interrupted: the user stopped the program while it was asked.
    """

    def too_slow(used: str) -> RuleError:
        message = f"has not answered {used}, and was stopped"
        return RuleError(plugin, rule, message, version=version, wall=wall, fault="too slow")

    try:
        with limited(patience, too_slow):
            yield
    except KeyboardInterrupt:
        raise Interrupted(plugin, rule, version=version, wall=wall) from None
    except RuleError:
        raise
    except NonsenseError as error:
        raise RuleError(plugin, rule, str(error), version=version, wall=wall, fault="nonsense") from None
    except ReadOnlyError as error:
        fault: Breakage = "changes what it is given"
        raise RuleError(plugin, rule, str(error), version=version, wall=wall, fault=fault) from error
    except (Exception, SystemExit) as error:
        raise RuleError(plugin, rule, sentence(error), version=version, wall=wall) from error


@contextmanager
def loading(
    plugin: str, patience: Patience | None = None, *, doing: str = "cannot be imported"
) -> Iterator[None]:
    """Load a plugin within: what goes wrong stops the start and names it.

    Raises:
        PluginLoadError: it failed, ended the program, or took too long.
        Interrupted: the user stopped the program meanwhile.
    """

    def too_slow(used: str) -> PluginLoadError:
        return PluginLoadError(plugin, f"{doing}: it is not done {used}, and was stopped")

    try:
        with limited(patience, too_slow):
            yield
    except KeyboardInterrupt:
        raise Interrupted(plugin) from None
    except PluginLoadError:
        raise
    except NonsenseError as error:
        raise PluginLoadError(plugin, f"{doing}: {error}") from None
    except (Exception, SystemExit) as error:
        raise PluginLoadError(plugin, f"{doing}: {sentence(error)}") from error


class NonsenseError(Exception):
    """What a plugin returned is not what was asked for."""


def drawn_out(answer: Iterable[Item]) -> tuple[Item, ...]:
    """All that an answer holds; to be called where the plugin is blamed.

    Raises:
        NonsenseError: it is no sequence, holds more than `MOST_ANSWERS`, or goes on for ever.
    """
    if answer is None:
        raise NonsenseError("returned nothing; a list is needed, which may be empty")
    # A model can be walked through too: over its members.
    if not isinstance(answer, Iterable) or isinstance(answer, BaseModel | str | bytes | Mapping):
        one = f"the class {answer.__name__}" if isinstance(answer, type) else f"one {type(answer).__name__}"
        raise NonsenseError(f"returned {one}; a list of them is needed")
    items = tuple(itertools.islice(answer, MOST_ANSWERS + 1))
    if len(items) > MOST_ANSWERS:
        raise NonsenseError(f"returned over {MOST_ANSWERS} things; accepted are up to that")
    return items
