// Lengths as the building tells them: read from what a person types, and shown in millimetres or in feet and
// inches to the sixteenth, as on the drawing.
"use strict";

const lengths = (() => {
  const MM = { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8, "'": 304.8, '"': 25.4 };
  const TERM = /(\d+ \d+\/\d+|\d+\/\d+|\d+(?:\.\d+)?) ?(mm|cm|m|in|ft|'|")/g;
  const unitOf = (file) => (file?.units === "in" ? "in" : "mm");
  const unit = () => unitOf(building.file);

  function figure(text) {
    const [fraction, whole = "0"] = text.split(" ").reverse();
    const [above, below = "1"] = fraction.split("/");
    return Number(whole) + Number(above) / Number(below);
  }

  // mm of a file's length, a bare number in its unit; `null` where it is none.
  function mm(value, from = unit()) {
    if (typeof value === "number") return value * MM[from];
    if (typeof value !== "string") return null;
    const text = value.trim();
    const terms = [...text.matchAll(TERM)];
    const isAll = terms.map(([term]) => term).join("") === text.replace(/^-/, "").replaceAll(/(mm|cm|m|in|ft|'|") /g, "$1");
    if (terms.length === 0 || !isAll) return null;
    const sum = terms.reduce((before, [, said, name]) => before + figure(said) * MM[name], 0);
    return text.startsWith("-") ? -sum : sum;
  }

  const round = (value, places) => Number(value.toFixed(places));

  // A bare number of the building's unit: the very length, or what a tape can set.
  const exact = (length) => (unit() === "in" ? round(length / 25.4, 9) : round(length, 6));
  const fromMm = (length) => (unit() === "in" ? Math.round(length / 25.4 * 16) / 16 : round(length, 3));

  function feetAndInches(length) {
    const sixteenths = Math.floor(round(Math.abs(length) / 25.4 * 16, 6) + 0.5);
    const [feet, inches, rest] = [Math.floor(sixteenths / 192), Math.floor(sixteenths % 192 / 16), sixteenths % 16];
    const said = [
      ...(feet ? [feet, "ft"] : []),
      ...(inches || (!rest && !feet) ? [inches] : []),
      ...(rest ? [lowest(rest, 16)] : []),
      ...(inches || rest || !feet ? ["in"] : []),
    ].join(" ");
    return length < 0 && sixteenths ? `-${said}` : said;
  }

  function lowest(above, below) {
    return above % 2 ? `${above}/${below}` : lowest(above / 2, below / 2);
  }

  // A file's length as the building tells it; what is none as it stands there.
  function shown(value) {
    const length = mm(value);
    if (length === null) return String(value ?? "");
    return shownMm(length);
  }

  const shownMm = (length, to = unit()) => (to === "in" ? feetAndInches(length) : String(round(length, 3)));

  // A limit with its unit, in inches the nearest sixteenth that keeps it.
  function limit(length, isLeast) {
    if (unit() !== "in") return `${round(length, 3)} mm`;
    const sixteenths = round(length / 25.4 * 16, 6);
    return feetAndInches((isLeast ? Math.ceil(sixteenths) : Math.floor(sixteenths)) / 16 * 25.4);
  }

  // The same building told in another unit: its bare numbers are rewritten, texts carry their own.
  function turned(file, to) {
    const factor = MM[unitOf(file)] / MM[to];
    const places = to === "in" ? 9 : 6;
    const next = schema.withLengths(schema.whole, file, (value) => (typeof value === "number" ? round(value * factor, places) : value));
    return { ...next, units: to };
  }

  return { unitOf, mm, exact, fromMm, shown, shownMm, limit, turned, unit };
})();
