import type { OverlayRefusals } from '../../core/overlay/refusals';
import type { StrapRefusals } from '../../core/strap/refusals';
import type { RefusalWords } from '../sentence';

export const strapRefusals: { readonly [Code in keyof StrapRefusals]: RefusalWords<StrapRefusals[Code]> } = {
  STRAP_TOO_FEW: {
    says: ({ given, fewest }) => `${given} sound steps are too few for a table; ${fewest} are needed.`,
    remedy: 'Fill or drive in more steps of 5 to 10 % of the tank.',
  },
  STRAP_STEP: {
    says: ({ number, litre, wrong }) =>
      wrong === 'number'
        ? `Step ${number} has no number above 0.`
        : `Step ${number} (${litre} l) turns back: litres only grow while filling and only fall by driving.`,
    remedy: 'Correct it, or say which way it went (leg up or down).',
  },
  STRAP_NO_RESERVE: {
    says: ({ reserveLitre, mostLitre }, say) =>
      `Not even at the highest needle (${say.short(mostLitre, 'l')} to drive on) is a reserve of ${say.short(reserveLitre, 'l')} sure.`,
    remedy: 'Ask for a smaller reserve, or read more steps.',
  },
  STRAP_CHANCE: {
    says: ({ chance }) => `A chance of ${chance} is none to print E by.`,
    remedy: 'Give one above 0.5 and below 1, for example 0.975.',
  },
};

const SIZES: Readonly<Record<OverlayRefusals['OVERLAY_SIZE']['wrong'], string>> = {
  radius: 'the radius of the scale, mm',
  hub: 'the hole of the hub, mm',
  sweep: 'the sweep of the scale, degrees',
  marks: 'the number of marks',
  paper: 'the radius against the width of the paper, mm',
  bar: 'the length measured at a bar, mm',
};

export const overlayRefusals: {
  readonly [Code in keyof OverlayRefusals]: RefusalWords<OverlayRefusals[Code]>;
} = {
  OVERLAY_SCALED: {
    says: ({ acrossPercent, upPercent, mostPercent }) =>
      `The printer made it ${Math.abs(acrossPercent).toFixed(1)} % ${acrossPercent < 0 ? 'smaller' : 'larger'} across and ${Math.abs(upPercent).toFixed(1)} % ${upPercent < 0 ? 'smaller' : 'larger'} up; over ${mostPercent} % nothing is cut by it.`,
    remedy: 'Print without "fit to page", then measure both bars again.',
  },
  OVERLAY_SIZE: {
    says: ({ wrong, given }) => `This cannot be ${SIZES[wrong]}: ${given}.`,
    remedy: 'Correct it.',
  },
};
