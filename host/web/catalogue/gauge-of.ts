import type { PartInCatalogue } from '../../job/wire/catalogue-messages';
import type { Gauge } from '../../job/schema/gauge';

/** The gauge of a job that begins with what the catalogue knows. Undefined for a sender, or where no dial is known. */
export function gaugeOf({
  part,
  quantity,
  unit,
  mechanism,
  dial,
  marks,
}: PartInCatalogue): Gauge | undefined {
  if (part !== 'gauge' || dial.marks.length < 2) return undefined;
  const [low, high] = [marks[0], marks.at(-1)];
  return {
    quantity,
    mechanism: mechanism ?? 'unknown',
    unit: unit === '' ? '%' : unit,
    marks: dial.marks,
    ...(low === undefined || high === undefined || low === high
      ? {}
      : { family: { lowEndOhm: low.at, highEndOhm: high.at } }),
  };
}
