"""The installed plugins: found, loaded, asked, and their answers looked at.

In: entry points and files. Out: a registry of all that plugins offer, and calls into them that name whoever
fails.
"""

from __future__ import annotations

from soleplate.engine.registry.answers import sound
from soleplate.engine.registry.asking import Asked
from soleplate.engine.registry.blame import blamed, drawn_out
from soleplate.engine.registry.deprecation import quietly
from soleplate.engine.registry.drawings import nothing_to_draw
from soleplate.engine.registry.errors import (
    Breakage,
    Interrupted,
    PluginError,
    PluginLoadError,
    RuleError,
    UnknownPluginError,
    named,
    sentence,
)
from soleplate.engine.registry.loading import GROUP, OWN, installed_from, load_registry
from soleplate.engine.registry.registry import RegisteredRule, Registry, extension_name, rule_name

__all__ = [
    "GROUP",
    "OWN",
    "Asked",
    "Breakage",
    "Interrupted",
    "PluginError",
    "PluginLoadError",
    "RegisteredRule",
    "Registry",
    "RuleError",
    "UnknownPluginError",
    "blamed",
    "drawn_out",
    "extension_name",
    "installed_from",
    "load_registry",
    "named",
    "nothing_to_draw",
    "quietly",
    "rule_name",
    "sentence",
    "sound",
]
