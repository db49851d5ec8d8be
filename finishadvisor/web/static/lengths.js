// Lengths as people type them, and as the trade writes them. The program itself reads them again when they are sent.

const METERS_PER_FOOT = 0.3048;
const FRACTIONS = { "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8" };
const METRIC = { m: 1, cm: 0.01, mm: 0.001 };

function inchesOf(text) {
  const parts = text.trim().match(/^(?:(\d+(?:\.\d*)?|\.\d+))?[\s-]*(?:(\d+)\s*\/\s*(\d+))?$/);
  if (!parts || (parts[1] === undefined && parts[2] === undefined)) return NaN;
  return Number(parts[1] ?? 0) + (parts[2] === undefined ? 0 : Number(parts[2]) / Number(parts[3]));
}

/** Feet of a typed length, or null: 24ft 6in, 24' 6 1/2", 7.5 m, 750 cm, -3in, 24.5 (meters in a metric job). */
export function feetOf(text, metric = false) {
  let plain = String(text).trim().toLowerCase().replace(/[″”“]/g, '"').replace(/[′’‘]/g, "'").replaceAll("''", '"').replaceAll("−", "-");
  for (const [sign, fraction] of Object.entries(FRACTIONS)) plain = plain.replaceAll(sign, ` ${fraction}`);
  const sign = plain.startsWith("-") ? -1 : 1;
  plain = plain.replace(/^-/, "").trim();
  const number = "(\\d+(?:\\.\\d*)?|\\.\\d+)";
  let found = plain.match(new RegExp(`^${number}$`));
  let feet = null;
  if (found) feet = metric ? Number(found[1]) / METERS_PER_FOOT : Number(found[1]);
  else if ((found = plain.match(new RegExp(`^${number}\\s*(mm|cm|m|meters?|metres?)$`)))) {
    feet = (Number(found[1]) * (METRIC[found[2]] ?? 1)) / METERS_PER_FOOT;
  } else if ((found = plain.match(new RegExp(`^${number}\\s*(?:'|feet|foot|ft\\.?)\\s*(?:[\\s,-]*(.+?)\\s*(?:"|inches|inch|in\\.?)?)?$`)))) {
    feet = Number(found[1]) + (found[2] ? inchesOf(found[2]) / 12 : 0);
  } else if ((found = plain.match(/^(.+?)\s*(?:"|inches|inch|in\.?)$/))) feet = inchesOf(found[1]) / 12;
  return feet === null || Number.isNaN(feet) ? null : sign * feet;
}

/** A length to the nearest 1/16 in or millimeter, typed as a job file reads it: 24ft 6 1/2in, 7.468 m. */
export function lengthText(feet, metric = false) {
  if (metric) return `${Number((feet * METERS_PER_FOOT).toFixed(3))} m`;
  const sixteenths = Math.round(Math.abs(feet) * 192);
  const sign = feet < 0 && sixteenths ? "-" : "";
  const whole = Math.floor(sixteenths / 192);
  const inches = Math.floor((sixteenths % 192) / 16);
  let [top, bottom] = [sixteenths % 16, 16];
  while (top && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  const rest = [inches || (!top && !whole) ? String(inches) : "", top ? `${top}/${bottom}` : ""].filter(Boolean).join(" ");
  const words = [whole ? `${whole}ft` : "", inches || top ? `${rest}in` : ""].filter(Boolean).join(" ");
  return sign + (words || "0ft");
}

/** The same as the trade writes it on a plan: 24' 6 1/2". */
export const shownLength = (feet, metric = false) => (metric ? lengthText(feet, true) : lengthText(feet).replace("ft", "'").replace("in", '"'));
