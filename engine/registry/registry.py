"""The registry: all that the loaded plugins offer, collected once and frozen.

It is the one place that calls the `register_*` hooks, and it refuses what is half made or doubled.
"""

from __future__ import annotations

import inspect
import json
import re
from collections.abc import Iterable, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Final, TypeVar, get_args

import pluggy
from pydantic import ValidationError

from soleplate.engine.building_file import Building, WallRequest, read_document
from soleplate.engine.layout import Layout
from soleplate.engine.registry.answers import sound
from soleplate.engine.registry.blame import NonsenseError, blamed, drawn_out, loading
from soleplate.engine.registry.errors import Breakage, PluginClashError, PluginLoadError, RuleError
from soleplate.engine.registry.findings import to_tell
from soleplate.engine.registry.narrowing import Documents, documents, families_picked, narrowed_rule
from soleplate.engine.registry.patience import Patience, keeping_time
from soleplate.engine.rules import DrawingLayer, Exporter, ExportOptions, Finding, FindingKind, Rule, families
from soleplate.engine.shapes import ROLES, Role, Roles

Offer = TypeVar("Offer")

FILE_MEMBERS: Final = {
    "media_type": (re.compile(r"[a-z]+/[A-Za-z0-9.+-]+(; ?charset=[a-z0-9-]+)?"), "text/csv"),
    "suffix": (re.compile(r"(\.[a-z0-9]{1,10}){1,2}"), ".csv"),
}
"""What an exporter tells of its file: how each may look, and an example; none can lead out of a folder."""

KEBAB: Final = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
WORDS: Final = re.compile(r"[a-z][a-z0-9]*( [a-z0-9]+)*")
"""A role's name: it stands in lists, between commas."""


@dataclass(frozen=True, slots=True)
class Plugin:
    """A plugin: its name, where it came from, and the hooks it implements.

    `problem` tells why a plugin was left out, where the start went on without it; `notices` tell of
    its hooks that are on their way out.
    """

    name: str
    distribution: str
    version: str
    hooks: tuple[str, ...] = ()
    problem: str | None = None
    notices: tuple[str, ...] = ()

    @property
    def called(self) -> str:
        """Its name with its version, where it has one."""
        return f"{self.name} {self.version}".rstrip()


@dataclass(frozen=True, slots=True)
class RegisteredRule:
    """A rule with the plugin that offers it."""

    family: str
    name: str
    plugin: str
    model: type[Rule]


@dataclass(frozen=True)
class Registry:
    """What is installed. Everything is sorted by name, whatever order the plugins were found in."""

    plugins: tuple[Plugin, ...]
    rules: tuple[RegisteredRule, ...]
    drawing_layers: tuple[tuple[str, DrawingLayer], ...]
    exporters: tuple[tuple[str, Exporter], ...]
    checks: tuple[tuple[str, Any], ...]
    finding_kinds: tuple[tuple[str, FindingKind], ...] = ()
    roles: Roles = ROLES
    patience: Patience | None = None
    """How long one call into a plugin may take, where it can be stopped."""

    def of_family(self, family: str) -> tuple[RegisteredRule, ...]:
        """The rules of a family, by name."""
        return tuple(rule for rule in self.rules if rule.family == family)

    def plugin_of(self, rule: Rule) -> str:
        """The name of the plugin that offers a rule."""
        return next(self._plugins[kind] for kind in type(rule).__mro__ if kind in self._plugins)

    def blamed(self, plugin: str, rule: str, wall: str | None = None) -> AbstractContextManager[None]:
        """Within, call a plugin: whatever goes wrong is told as its fault; see `blame.blamed`."""
        return blamed(plugin, rule, version=self.version_of(plugin), wall=wall, patience=self.patience)

    def keeping_time(self) -> AbstractContextManager[object]:
        """Within, plugins are called one after another: one timer serves all of them."""
        return keeping_time(self.patience)

    def fault(
        self, plugin: str, rule: str, message: str, wall: str | None = None, fault: Breakage = "nonsense"
    ) -> RuleError:
        """The error of a plugin that returned what cannot be."""
        version = self.version_of(plugin)
        return RuleError(plugin, rule, message, version=version, wall=wall, fault=fault)

    def version_of(self, plugin: str) -> str:
        """Of a plugin, by its name; empty where it has none."""
        return self._versions.get(plugin, "")

    @cached_property
    def _versions(self) -> dict[str, str]:
        return {plugin.name: plugin.version for plugin in self.plugins}

    @cached_property
    def _plugins(self) -> dict[type[Rule], str]:
        return {rule.model: rule.plugin for rule in self.rules}

    @cached_property
    def stand_ins(self) -> Mapping[str, Rule]:
        """By family, the rule that is used where a building file chooses none."""
        return {rule.family: rule.model() for rule in self.rules if rule.model.stands_in}

    @cached_property
    def building_model(self) -> type[Building]:
        """The building file's model, its rule members narrowed to the installed rules."""
        return self._documents.building

    @cached_property
    def wall_model(self) -> type[WallRequest]:
        """The model of one wall on its own, narrowed likewise."""
        return self._documents.wall

    def narrowed(self, model: type[Rule]) -> type[Rule]:
        """A rule's model whose members pick among the installed rules; itself where it picks none."""
        return self._documents.rules.get(model) or narrowed_rule(model, self._models)

    @cached_property
    def _documents(self) -> Documents:
        return documents(self._models)

    @property
    def _models(self) -> dict[str, list[type[Rule]]]:
        return {f.name: [rule.model for rule in self.of_family(f.name)] for f in families.FAMILIES}

    def read_building(self, value: Any) -> Building:
        """A building from the value of a JSON text.

        Raises:
            SchemaError: the published JSON Schema says no.
            UnbuildableError: it is well-formed, and no building is like that.
        """
        return read_document(self.building_model, value)

    def read_wall(self, value: Any) -> Building:
        """A building of one wall from the value of a JSON text; raises as `read_building`."""
        own = self._documents
        return read_document(own.wall, value).as_building(own.building, own.wall_block)

    def building_schema(self) -> dict[str, Any]:
        """The building file's JSON Schema (2020-12)."""
        schema = self.building_model.model_json_schema(by_alias=True)
        return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}

    def findings(self, layout: Layout, building: Building) -> tuple[Finding, ...]:
        """What the plugins' checks have to say of a layout.

        Raises:
            RuleError: a check failed, or returned something that is no finding.
        """
        found: list[Finding] = []
        parts = dict.fromkeys(part.name for part in layout.parts)
        marks = dict.fromkeys(piece.mark for piece in layout.pieces)
        for plugin, implementation in self.checks:
            told = {"layout": layout, "building": building}
            with self.blamed(plugin, "check_layout"):
                results = implementation.function(*(told[name] for name in implementation.argnames))
                found += to_tell(drawn_out(results), parts, marks)
        return tuple(found)


def collect(
    manager: pluggy.PluginManager, plugins: Sequence[Plugin], patience: Patience | None = None
) -> Registry:
    """Ask every plugin what it offers; `patience` is how long one call may take.

    A name belongs to the first of `plugins` that offers it.

    Raises:
        PluginLoadError: a hook fails, or offers something half made.
        PluginClashError: a name is taken.
    """
    rules: list[RegisteredRule] = []
    called = {plugin.name: plugin.called for plugin in plugins}
    for plugin, model in _offered(manager, "register_rules", called, patience):
        name = rule_name(plugin, model)
        rules.append(RegisteredRule(model.family, name, plugin, model))
    _refuse_clashes(rules, called)
    return Registry(
        plugins=tuple(sorted(plugins, key=lambda plugin: plugin.name)),
        rules=tuple(sorted(rules, key=lambda rule: (rule.family, rule.name))),
        drawing_layers=_extensions(manager, "register_drawing_layers", DrawingLayer, called, patience),
        exporters=_extensions(manager, "register_exporters", Exporter, called, patience),
        checks=tuple(
            sorted(
                ((impl.plugin_name, impl) for impl in manager.hook.check_layout.get_hookimpls()),
                key=lambda pair: pair[0],
            )
        ),
        finding_kinds=_kinds(manager, called, patience),
        roles=_roles(manager, called, patience),
        patience=patience,
    )


def _roles(manager: pluggy.PluginManager, called: Mapping[str, str], patience: Patience | None) -> Roles:
    """The roles that ship, then those of plugins, sorted by name."""
    offered: dict[str, tuple[Role, str]] = {}
    for plugin, offer in _offered(manager, "register_roles", called, patience):
        role = _sound(plugin, offer, Role)
        if not WORDS.fullmatch(role.name):
            raise PluginLoadError(
                plugin, f"the role {role.name!r} needs a name of plain words in small letters"
            )
        if (role.stands and role.lies != "upright") or (role.full_height and not role.stands):
            said = "one that stands lies upright, and one of full height stands"
            raise PluginLoadError(plugin, f"the role {role.name!r} contradicts itself; accepted is: {said}")
        if role.name in ROLES or role.name in offered:
            first = "those that ship" if role.name in ROLES else called[offered[role.name][1]]
            raise PluginClashError(plugin, f"the role {role.name!r} is taken by {first}; choose another name")
        offered[role.name] = role, plugin
    return Roles((*ROLES.rows, *(offered[name][0] for name in sorted(offered))))


def _kinds(
    manager: pluggy.PluginManager, called: Mapping[str, str], patience: Patience | None
) -> tuple[tuple[str, FindingKind], ...]:
    """(plugin, kind) of all kinds of findings; a code belongs to the plugin that offers it first."""
    kinds: list[tuple[str, FindingKind]] = []
    owner: dict[str, str] = {}
    for plugin, offer in _offered(manager, "register_finding_kinds", called, patience):
        kind = _sound(plugin, offer, FindingKind)
        if not KEBAB.fullmatch(kind.code):
            raise PluginLoadError(plugin, f"offers a FindingKind {kind.code!r}; accepted is kebab-case")
        if owner.setdefault(kind.code, plugin) != plugin:
            first = called[owner[kind.code]]
            raise PluginClashError(
                plugin, f"the code {kind.code!r} is taken by plugin {first}; choose another one"
            )
        kinds.append((plugin, kind))
    return tuple(sorted(kinds, key=lambda pair: pair[0]))


def _sound(plugin: str, offer: object, kind: type[Offer]) -> Offer:
    """An offer, once it is found to be of the kind that belongs there.

    Raises:
        PluginLoadError: it is not.
    """
    if not isinstance(offer, kind):
        raise PluginLoadError(plugin, f"offers {offer!r}, which is no {kind.__name__}")
    try:
        return sound(offer, kind, "offers")
    except NonsenseError as error:
        raise PluginLoadError(plugin, str(error)) from None


def _offered(
    manager: pluggy.PluginManager, hook: str, called: Mapping[str, str], patience: Patience | None
) -> list[tuple[str, Any]]:
    """(plugin, offer) of all that a `register_*` hook brings, in the order of the plugins."""
    offered: list[tuple[str, Any]] = []
    for implementation in getattr(manager.hook, hook).get_hookimpls():
        with loading(implementation.plugin_name, patience, doing=f"{hook} failed"):
            classes = drawn_out(implementation.function())
        offered.extend((implementation.plugin_name, offer) for offer in classes)
    order = list(called)
    return sorted(offered, key=lambda pair: order.index(pair[0]))


def _extensions(
    manager: pluggy.PluginManager,
    hook: str,
    base: type[Any],
    called: Mapping[str, str],
    patience: Patience | None,
) -> tuple[tuple[str, Any], ...]:
    made: dict[str, tuple[str, Any]] = {}
    for plugin, offer in _offered(manager, hook, called, patience):
        name = extension_name(plugin, offer, base)
        if name in made:
            raise PluginClashError(
                plugin, f"{name!r} is taken by plugin {called[made[name][0]]}; choose another name"
            )
        with loading(plugin, patience, doing=f"class {offer.__name__} cannot be made"):
            made[name] = (plugin, offer())
    return tuple(made[name] for name in sorted(made))


def extension_name(plugin: str, offer: type[Any], base: type[Any]) -> str:
    """The name of a layer's or exporter's class, once it is found to be whole.

    Raises:
        PluginLoadError: it is half made; says what it lacks.
    """
    _require_class(plugin, offer, base)
    name = getattr(offer, "name", None)
    if not isinstance(name, str) or not KEBAB.fullmatch(name):
        raise PluginLoadError(plugin, f"class {offer.__name__} needs a `name` in kebab-case")
    if base is Exporter:
        _require_file(plugin, offer)
    return name


def _require_file(plugin: str, offer: type[Exporter]) -> None:
    """Refuse an exporter that does not tell of its file, or of its options, what is needed."""
    for member, (pattern, example) in FILE_MEMBERS.items():
        told: object = getattr(offer, member, None)
        if not isinstance(told, str) or not pattern.fullmatch(told):
            has = f"the {member} {told!r}" if hasattr(offer, member) else f"no {member}"
            raise PluginLoadError(
                plugin, f"class {offer.__name__} has {has}; accepted is like {member} = {example!r}"
            )
    options: object = offer.options
    if not inspect.isclass(options) or not issubclass(options, ExportOptions):
        raise PluginLoadError(
            plugin,
            f"class {offer.__name__} has the options {options!r}; accepted are some of ExportOptions",
        )


def _require_class(plugin: str, offer: Any, base: type[Any]) -> None:
    if not inspect.isclass(offer) or not issubclass(offer, base):
        raise PluginLoadError(plugin, f"offers {offer!r}, which is not a class derived from {base.__name__}")
    missing = sorted(getattr(offer, "__abstractmethods__", ()))
    if missing:
        raise PluginLoadError(plugin, f"class {offer.__name__} lacks {', '.join(missing)}")


def rule_name(plugin: str, model: type[Any]) -> str:
    """The name of a rule class, once it is found to be whole.

    Raises:
        PluginLoadError: it is half made; says what it lacks.
    """
    _require_class(plugin, model, Rule)
    if families.family_of(model) is None:
        bases = ", ".join(family.base.__name__ for family in families.FAMILIES)
        raise PluginLoadError(
            plugin, f"class {model.__name__} is of no family; accepted is one derived from {bases}"
        )
    field = model.model_fields.get("rule")
    names = get_args(field.annotation) if field is not None else ()
    if len(names) != 1 or not isinstance(names[0], str) or not KEBAB.fullmatch(names[0]):
        raise PluginLoadError(
            plugin, f'class {model.__name__} needs `rule: Literal["its-name"] = "its-name"`, in kebab-case'
        )
    if not model.model_config.get("frozen"):
        raise PluginLoadError(plugin, f"class {model.__name__} is not frozen; leave its model_config alone")
    if not (model.__doc__ or "").strip():
        raise PluginLoadError(plugin, f"class {model.__name__} has no docstring; say what the rule does")
    for name, parameter in model.model_fields.items():
        if name != "rule" and not parameter.description:
            raise PluginLoadError(
                plugin, f"{model.__name__}.{name} is not described; put a docstring under it"
            )
    _require_examples(plugin, model)
    return str(names[0])


def _picks(plugin: str, model: type[Rule]) -> bool:
    """Whether a rule picks others; those of a floor or roof alone may, and none of those in turn."""
    picked = families_picked(model)
    own = families.family_of(model)
    may = own is not None and own.picks_others
    if picked and not may:
        raise PluginLoadError(
            plugin, f"class {model.__name__} picks other rules, which only those of floors and roofs may"
        )
    for family in picked:
        if family.picks_others:
            raise PluginLoadError(
                plugin, f"class {model.__name__} picks a rule of {family.name}, which pick rules themselves"
            )
    return bool(picked)


def _require_examples(plugin: str, model: type[Rule]) -> None:
    if not model.examples:
        raise PluginLoadError(plugin, f"class {model.__name__} has no `examples`")
    if _picks(plugin, model):
        # Which rules there are is known once all plugins are loaded: the contract reads such examples.
        return
    for example in model.examples:
        try:
            model.model_validate_json(json.dumps(example))
        except ValidationError as error:
            raise PluginLoadError(
                plugin, f"an example of class {model.__name__} is not valid: {error.errors()[0]['msg']}"
            ) from error


def _refuse_clashes(rules: Iterable[RegisteredRule], called: Mapping[str, str]) -> None:
    """Refuse a name, or a place, that a rule before it has; `rules` are in the order of the plugins."""
    taken: dict[tuple[str, str], str] = {}
    for rule in rules:
        claims = {(rule.family, rule.name): f"the rule name {rule.name!r}"}
        if rule.model.stands_in:
            claims[("stand-in", rule.family)] = f"the place of the {rule.family}' stand-in"
        for key, what in claims.items():
            if key in taken:
                owner = called[taken[key]]
                raise PluginClashError(rule.plugin, f"{what} is taken by plugin {owner}; choose another name")
            taken[key] = rule.plugin
