/** What a page of the notes says is to be read, as numbers. */

const units: Readonly<Record<string, number>> = {
  mV: 1e-3,
  V: 1,
  µA: 1e-6,
  mA: 1e-3,
  A: 1,
  ms: 1e-3,
  s: 1,
  Ω: 1,
  kΩ: 1e3,
  MΩ: 1e6,
};
/** "2 % is near enough unless a tolerance is given." */
const USUAL_PART = 0.02;
/** What a multimeter shows for nothing. */
export const NOTHING = 1e-3;

/** Lowest and highest of "8.2 kΩ ± 5 %", "0.20 to 0.35 s", "above 10 MΩ", "below 1 µA", "2.50 V". Throws for other words. */
export function rangeOf(text: string): readonly [number, number] {
  const unit = (name: string | undefined): number => {
    const found = units[name ?? ''];
    if (found === undefined) throw new Error(`no unit in ${text}`);
    return found;
  };
  const band = /^([\d.]+) to ([\d.]+) (\S+)$/.exec(text);
  if (band !== null) return [Number(band[1]) * unit(band[3]), Number(band[2]) * unit(band[3])];
  const bound = /^(above|below) ([\d.]+) (\S+)$/.exec(text);
  if (bound !== null) {
    const limit = Number(bound[2]) * unit(bound[3]);
    return bound[1] === 'above' ? [limit, Infinity] : [-limit, limit];
  }
  const single = /^([\d.]+) (\S+?)(?: ± ([\d.]+) (\S+))?$/.exec(text);
  if (single === null) throw new Error(`no reading in ${text}`);
  const value = Number(single[1]) * unit(single[2]);
  const spread =
    single[3] === undefined
      ? Math.max(value * USUAL_PART, NOTHING)
      : single[4] === '%'
        ? (value * Number(single[3])) / 100
        : Number(single[3]) * unit(single[4]);
  return [value - spread, value + spread];
}
