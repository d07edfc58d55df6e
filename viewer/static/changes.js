// What one building changed against another, in a few words: entries as the forms name them, lengths as the
// later building tells them.
"use strict";

const changes = (() => {
  const { say } = page;
  const MOST = 3;
  // Places that a name within says enough of.
  const PLAIN = new Set(["outline", "roof", "frame", "defaults", "walls", "openings", "corners", "stock", "site"]);

  // A length, whatever unit it was told in.
  class Length {
    constructor(mm) { this.mm = Math.round(mm * 1000) / 1000; }
  }

  function comparable(file) {
    const unit = lengths.unitOf(file);
    const read = (value) => {
      const mm = lengths.mm(value, unit);
      return mm === null ? value : new Length(mm);
    };
    return schema.whole ? schema.withLengths(schema.whole, file, read) : file;
  }

  const isOne = (value) => value === null || typeof value !== "object" || value instanceof Length;
  const isSame = (one, other) => JSON.stringify(one) === JSON.stringify(other);
  const named = (list) => list.every((item) => item !== null && typeof item === "object" && typeof item.name === "string");

  // Items of a list are told apart by their names, where they have any, and else by their place.
  function entriesOf(value) {
    if (!Array.isArray(value)) return Object.entries(value);
    return named(value) ? value.map((item) => [item.name, item]) : value.map((item, index) => [String(index + 1), item]);
  }

  function* between(before, after, path) {
    if (isSame(before, after)) return;
    if (before === undefined || after === undefined || isOne(before) || isOne(after)) {
      yield { path, before, after };
      return;
    }
    const [was, is] = [new Map(entriesOf(before)), new Map(entriesOf(after))];
    for (const name of new Set([...was.keys(), ...is.keys()])) yield* between(was.get(name), is.get(name), [...path, name]);
  }

  const tell = (value, unit) => (value instanceof Length ? lengths.shownMm(value.mm, unit) : isOne(value) ? entries.words(String(value)) : null);

  function change({ path, before, after }, unit) {
    const what = path.filter((step, index) => index === path.length - 1 || !PLAIN.has(step)).map(entries.words).join(", ");
    if (before === undefined) return say("wasAdded", { what: tell(after, unit) === null ? what : `${what}: ${tell(after, unit)}` });
    const [was, is] = [tell(before, unit), tell(after, unit)];
    if (after === undefined) return say("wasTakenOut", { what });
    return say("changedTo", { what, before: was ?? "…", after: is ?? "…" });
  }

  // The first few changes; where the unit changed, only lengths that are others.
  function told(before, after) {
    const found = Array.from(between(comparable(before), comparable(after), []));
    if (found.length === 0) return say("sameAsBefore");
    const unit = lengths.unitOf(after);
    const said = found.slice(0, MOST).map((each) => change(each, unit));
    return [...said, ...(found.length > MOST ? [say("andMore", { count: found.length - MOST })] : [])].join("; ");
  }

  return { told };
})();
