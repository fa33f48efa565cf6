import type { Refused } from '../core/result';
import { boxRefusals } from './box';
import { calibrationRefusals } from './calibration';
import { catalogueRefusals } from './catalogue';
import type { Entry, Status } from './entry';
import { handRefusals } from './hand';
import { jobRefusals } from './job';
import { journalRefusals } from './journal';
import { photographRefusals } from './photograph';
import { proofRefusals } from './proof';
import { serverRefusals } from './server';

const catalogue = {
  ...boxRefusals,
  ...calibrationRefusals,
  ...catalogueRefusals,
  ...handRefusals,
  ...jobRefusals,
  ...journalRefusals,
  ...photographRefusals,
  ...proofRefusals,
  ...serverRefusals,
};

export type HostRefusalCode = keyof typeof catalogue;
type SlotsOf<Code extends HostRefusalCode> = Parameters<(typeof catalogue)[Code]['says']>;

/** Every code with which server, bench, store and job refuse. Those of the core stand in `host/core/refusal.ts`. */
export const hostRefusals: { readonly [Code in HostRefusalCode]: Entry<SlotsOf<Code>> } = catalogue;

/** A refusal of the host with its sentence: what was wrong, then what to do. */
export const refuse = <Code extends HostRefusalCode>(code: Code, ...slots: SlotsOf<Code>): Refused<Code> => {
  const { says, remedy }: Entry<SlotsOf<Code>> = hostRefusals[code];
  return { kind: 'refused', code, message: `${says(...slots)} ${remedy}`.trimEnd() };
};

/** The HTTP status of a code. Those of the box, of the core and of the link are refusals of what was understood: 422. */
export const statusOf = (code: string): Status => statuses.get(code) ?? 422;
const statuses: ReadonlyMap<string, Status> = new Map(
  Object.entries(catalogue).map(([code, { status }]) => [code, status]),
);

type Passed = { readonly code: string; readonly message: string };

/** What the link or the box refused, as it was said. */
export const passedOn = ({ code, message }: Passed): Refused => ({ kind: 'refused', code, message });

/** What somebody else refused, with more around its sentence. */
export const about = ({ code, message }: Passed, says: (message: string) => string): Refused => ({
  kind: 'refused',
  code,
  message: says(message),
});
