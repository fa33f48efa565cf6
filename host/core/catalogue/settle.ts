import { ohmFromCompressed } from '../identify/compressed-ohm';
import { ARC_UNIT } from './arc-scale';
import type { Bank } from './bank';
import { identifyModel, type AskedPoint, type AskOptions, type ModelIdentification } from './identify-model';

/** Who needs more is told that another reading may settle it. */
const MOST_FURTHER = 3;

/**
 * Where the advised readings would be that settle it if the likeliest model is the one and each is read where that model
 * expects it: ohms of a gauge, values of a sender; none where it is clear. Undefined where more than three would be needed,
 * or none is advised.
 * Source: `identifyModel`, asked again with the readings that are foreseen.
 */
export function readingsToSettle(
  given: readonly AskedPoint[],
  bank: Bank,
  options: AskOptions,
  identified: ModelIdentification,
): readonly number[] | undefined {
  const likeliest = identified.ranking[0]?.ids[0];
  const points = [...given];
  const at: number[] = [];
  let now = identified;
  for (let further = 0; further <= MOST_FURTHER; further += 1) {
    if (now.verdict !== 'open') return now.verdict === 'clear' ? at : undefined;
    const expected = now.next?.expected.find(({ id }) => id === likeliest);
    if (now.next === undefined || expected === undefined) return undefined;
    at.push(now.next.argument);
    points.push(foreseen(bank, now.next.argument, expected.value));
    const after = identifyModel(points, bank, options);
    if (after.kind === 'refused') return undefined;
    now = after;
  }
  return undefined;
}

const foreseen = ({ kind }: Bank, argument: number, value: number): AskedPoint =>
  kind === 'sender'
    ? { resistanceOhm: ohmFromCompressed(value), value: argument }
    : { resistanceOhm: argument, value, unit: ARC_UNIT };
