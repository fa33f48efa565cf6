import { normalQuantile } from '../numeric/normal';
import { refuse, type Refusal } from '../refusal';
import { litreAt, type Strap, type StrapRow } from './strap';

export type HonestEmpty = {
  readonly kind: 'honest-empty';
  /** Where E may be printed: with at least `chance` there is the reserve left to drive on when the needle comes down to it. */
  readonly needle: number;
  readonly usableLitre: number;
  readonly reserveLitre: number;
  readonly chance: number;
  /** The reserve was never read so low: E is at the lowest needle that was. */
  readonly isAtLowest: boolean;
};

const STEPS = 400;

/**
 * Needle at which E is honest: P(usable litres >= reserve) >= chance. By the way down where it was read, for that is how a
 * tank is emptied; else by filling.
 * Source: normal error of the litres at a needle, one side. Refuses: a chance that is none (STRAP_CHANCE), a reserve that not
 * even a full tank holds as surely (STRAP_NO_RESERVE).
 */
export const honestEmpty = (
  strap: Strap,
  reserveLitre: number,
  chance = 0.975,
): HonestEmpty | Refusal<'STRAP_CHANCE' | 'STRAP_NO_RESERVE'> => {
  if (!(chance > 0.5 && chance < 1)) return refuse('STRAP_CHANCE', { chance });
  const rows = strap.driving.length > 1 ? strap.driving : strap.filling;
  const sure = normalQuantile(chance);
  const isEnough = ({ usableLitre, standardUncertainty }: StrapRow): boolean =>
    usableLitre - sure * standardUncertainty >= reserveLitre;
  const [lowest, highest] = [rows[0]!.needle, rows.at(-1)!.needle];
  // From the top down, so that nothing above it is less honest.
  let found = litreAt(rows, highest)!;
  if (!isEnough(found)) return refuse('STRAP_NO_RESERVE', { reserveLitre, mostLitre: found.usableLitre });
  for (let step = 0; step <= STEPS; step += 1) {
    const row = litreAt(rows, highest - ((highest - lowest) * step) / STEPS)!;
    if (!isEnough(row)) break;
    found = row;
  }
  return {
    kind: 'honest-empty',
    needle: found.needle,
    usableLitre: found.usableLitre,
    reserveLitre,
    chance,
    isAtLowest: found.needle <= lowest,
  };
};
