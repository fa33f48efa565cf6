import {
  isHintOnly,
  lagOf,
  referenceUncertainty,
  type ReferenceUncertainty,
} from '../../core/proof/reference';
import { referenceKinds, type ReferenceKind } from '../../core/proof/reference-kinds';
import type { Quantity } from '../../core/response';
import { refuse } from '../../core/refusal';
import { refusedError } from '../input-error';
import type { Arguments, OptionTable } from '../options';

const size = (help: string) => ({ kind: 'number', value: 'X', min: 0, help }) as const;

/** What the needle is held against, and how well that is known. */
export const REFERENCE_OPTIONS = {
  reference: {
    kind: 'choice',
    choices: referenceKinds,
    help: 'what was read beside the needle; "other" when left out',
  },
  'reference-shared': size(
    '\u00b1 of the reference that all pairs share, 95 %, dial unit: its own certificate',
  ),
  'reference-each': size('\u00b1 of the reference that each pair has of its own, 95 %, dial unit'),
  emissivity: {
    kind: 'number',
    value: 'E',
    min: 0,
    max: 1,
    help: 'of the surface an infrared thermometer looks at: tape or matt paint 0.95',
  },
  class: { kind: 'number', value: 'PERCENT', min: 0.01, max: 10, help: 'class of the master gauge' },
  'full-scale': { kind: 'number', value: 'X', min: 0, help: 'full scale of the master gauge, dial unit' },
  rate: size('how fast the reference changed at most while it was read, dial unit a minute'),
  'tank-l': {
    kind: 'number',
    value: 'L',
    min: 1,
    max: 1000,
    help: 'litres the tank holds, for a dial in parts of it',
  },
} as const satisfies OptionTable;

export const referenceKindFrom = (given: Arguments): ReferenceKind =>
  referenceKinds.find((name) => name === given.text('reference')) ?? 'other';

/** What was said of the reference. Throws RefusedError for a trap, and for what its \u00b1 cannot be reckoned from. */
export function referenceFrom(given: Arguments, quantity: Quantity, unit: string): ReferenceUncertainty {
  const kind = referenceKindFrom(given);
  if (isHintOnly(kind)) throw refusedError(refuse('REFERENCE_HINT', { reference: kind }));
  const found = referenceUncertainty({
    kind,
    quantity,
    unit,
    shared: given.number('reference-shared'),
    each: given.number('reference-each'),
    emissivity: given.number('emissivity'),
    classPercent: given.number('class'),
    fullScale: given.number('full-scale'),
    tankLitre: given.number('tank-l'),
  });
  if (found.kind === 'refused') throw refusedError(found, '--reference: ');
  const rate = given.number('rate');
  if (rate === undefined) return found;
  const lag = lagOf({ quantity, unit }, rate);
  if (lag.kind === 'refused') throw refusedError(lag, '--rate: ');
  return { ...found, each: Math.hypot(found.each, lag.size) };
}
