// The published schema: what a building file may say, references followed. Nothing here knows of the page.
"use strict";

const schema = (() => {
  const { told } = page;
  let whole = null;

  // What a part of the schema says; `null` among its kinds makes it optional.
  function resolved(part) {
    let found = part;
    while (found.$ref) {
      const { $ref, ...own } = found;
      found = { ...whole.$defs[$ref.split("/").pop()], ...own };
    }
    const kinds = found.anyOf?.filter((kind) => kind.type !== "null");
    if (kinds && kinds.length < found.anyOf.length) {
      const { anyOf, ...own } = found;
      const rest = kinds.length === 1 ? resolved(kinds[0]) : { anyOf: kinds };
      return { ...rest, ...own, isOptional: true };
    }
    return found;
  }

  const isLength = (part) => Boolean(part.anyOf?.some((kind) => kind.pattern) && part.anyOf.some((kind) => kind.type === "number"));
  const isWhole = (part) => part.type === "object" || part.type === "array" || Boolean(part.oneOf);

  // The limits of a value, of a length in mm; `null` where there is none.
  function limits(part) {
    const found = (part.anyOf ?? []).find((kind) => kind.type === "number") ?? part;
    const [above, below] = [found.exclusiveMinimum ?? null, found.exclusiveMaximum ?? null];
    return {
      least: part["x-least-mm"] ?? above ?? found.minimum ?? null,
      most: part["x-most-mm"] ?? below ?? found.maximum ?? null,
      isAbove: above !== null,
      isBelow: below !== null,
    };
  }

  const isWithin = ({ least, most, isAbove, isBelow }, value) => (least === null || (isAbove ? value > least : value >= least))
    && (most === null || (isBelow ? value < most : value <= most));

  // By how much a number is stepped: a count by one, a share by a hundredth, an angle or the like by a half.
  function stepOf(part) {
    if (part.type === "integer") return "1";
    if (part.type !== "number") return "";
    const { least, most } = limits(part);
    const room = most === null || least === null ? Infinity : most - least;
    return room <= 1 ? "0.01" : room <= 180 ? "0.5" : "1";
  }

  // Which of several kinds a value is: told apart by a member such as `rule`, or by the members that it has.
  function kindOf(part, value) {
    const by = part.discriminator?.propertyName;
    return part.oneOf.map(resolved).find((kind) => value && (by
      ? value[by] === kind.properties[by].const
      : (kind.required ?? []).every((member) => member in value)));
  }

  // A value of a part with every length in it as `act` gives it.
  function withLengths(part, value, act) {
    if (value === null || value === undefined) return value;
    const found = resolved(part);
    const inner = (each, item) => withLengths(each || {}, item, act);
    if (isLength(found)) return act(value);
    if (found.oneOf) return inner(kindOf(found, value), value);
    if (Array.isArray(value)) return value.map((item, index) => inner(found.prefixItems?.[index] ?? found.items, item));
    if (typeof value !== "object") return value;
    const members = found.properties ?? {};
    return Object.fromEntries(Object.entries(value).map(([name, item]) => [
      name, inner(Object.hasOwn(members, name) ? members[name] : found.additionalProperties, item),
    ]));
  }

  async function start() {
    const answer = await fetch("/v1/schema").catch(() => null);
    if (!answer?.ok) return false;
    whole = JSON.parse(await answer.text(), (name, value) => (name === "description" ? told(value) : value));
    return true;
  }

  return { start, resolved, isLength, isWhole, limits, isWithin, stepOf, kindOf, withLengths, get whole() { return whole; } };
})();
