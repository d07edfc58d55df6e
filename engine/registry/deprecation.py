"""Hooks on their way out: how a plugin that still implements one is told, and until when it works.

`Since` in a hook's description is the release that brought it. Hooks are added in minor releases (0.2), and
what one gives and takes never changes: what needs another shape is another hook. One that is to go is
written into `DEPRECATED` in a minor release, with what to use in its place. It goes on working until the
release named there, at the earliest the next minor one, and each plugin that implements it is named in a
warning.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Final

from soleplate.engine.registry.errors import named


class HookDeprecationWarning(FutureWarning):
    """A plugin implements a hook that is to go; shown by default, for the user has to know."""


@dataclass(frozen=True, slots=True)
class Deprecation:
    """Of one hook: the versions since which it is deprecated and in which it is gone, and what to do."""

    since: str
    gone_in: str
    instead: str

    def __post_init__(self) -> None:
        """Hold the rule that there is a minor release's time to change."""
        since, gone = ([int(part) for part in text.split(".")[:2]] for text in (self.since, self.gone_in))
        if gone <= since:
            raise ValueError(f"gone in {self.gone_in}; accepted is a minor release after {self.since}")


DEPRECATED: Final[Mapping[str, Deprecation]] = {}
"""By hook."""


@contextmanager
def quietly() -> Iterator[None]:
    """Within, no `HookDeprecationWarning` is shown: for one who tells the notices in words of their own."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", HookDeprecationWarning)
        yield


def notices(
    plugin: str, version: str, hooks: Iterable[str], deprecated: Mapping[str, Deprecation]
) -> Iterator[str]:
    """A sentence for each deprecated hook that a plugin implements."""
    for hook in hooks:
        if (found := deprecated.get(hook)) is not None:
            yield (
                f"plugin {named(plugin, version)}: implements {hook}, which is deprecated since"
                f" {found.since} and gone in {found.gone_in}; {found.instead}"
            )
