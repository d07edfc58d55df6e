"""The installed plugins: found, loaded, asked, and their answers looked at.

In: entry points and files. Out: a registry of all that plugins offer, and calls into them that name whoever
fails.
"""

from __future__ import annotations

from soleplate.engine.registry.answers import sound
from soleplate.engine.registry.asking import Asked
from soleplate.engine.registry.blame import blamed, drawn_out
from soleplate.engine.registry.deprecation import quietly
from soleplate.engine.registry.drawings import to_draw
from soleplate.engine.registry.errors import (
    Breakage,
    Interrupted,
    PluginError,
    PluginLoadError,
    RuleError,
    named,
    sentence,
)
from soleplate.engine.registry.findings import to_tell
from soleplate.engine.registry.loading import GROUP, OWN, installed_from, load_registry
from soleplate.engine.registry.patience import PATIENCE, Patience
from soleplate.engine.registry.registry import RegisteredRule, Registry, extension_name, rule_name
