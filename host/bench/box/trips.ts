import { faultName, faults } from '../../../protocol';
import type { EventOf, JobState, LiveFrame, Trip } from '../../job';
import type { Vital } from './vital';

/** What a box says of a trip, once, until it is acknowledged. */
export type TripTold = { readonly faultCode: number; readonly measured: number; readonly limit: number };

type TrippedBody = Omit<EventOf<'tripped'>, 'n' | 'at' | 'by'>;

const unknownFault = (faultCode: number): string =>
  `the box opened its output: fault ${faultCode}, which this program does not know; update it`;

/** A trip as the journal keeps it, in the catalogue's words. */
export const trippedBody = ({ faultCode, measured, limit }: TripTold): TrippedBody => {
  const code = faultName(faultCode);
  if (code === undefined) {
    const reason = unknownFault(faultCode);
    return { kind: 'tripped', faultCode, code: `FAULT_${faultCode}`, reason, measured, limit };
  }
  const { says, remedy } = faults[code];
  return { kind: 'tripped', faultCode, code, reason: says(measured, limit), remedy, measured, limit };
};

/** The fault a person sees: the box's own while it is tripped, else what the journal still has of it. */
export const shownFault = (trip: Trip | undefined, vital: Vital | undefined): number =>
  vital?.state === 'tripped' ? vital.faultCode : (trip?.faultCode ?? 0);

type ShownTrip = NonNullable<LiveFrame['trip']>;

const shown = ({ code, reason, remedy, measured, limit }: Omit<TrippedBody, 'kind'>): ShownTrip => ({
  code,
  reason,
  measured,
  limit,
  ...(remedy === undefined ? {} : { remedy }),
});

/** A heartbeat has the number of the fault and nothing else. */
const unreported = (faultCode: number): ShownTrip => {
  const code = faultName(faultCode);
  if (code === undefined) return { code: `FAULT_${faultCode}`, reason: unknownFault(faultCode) };
  const reason = `the box has tripped (${code}) before this program heard of it; what it measured was not reported`;
  return { code, reason, remedy: faults[code].remedy };
};

/** A trip the journal knows, or one that the box told while another job was open, or one that only its heartbeat shows. */
export const tripOf = (
  trip: JobState['trip'],
  vital: Vital | undefined,
  told: TripTold | undefined,
): ShownTrip | undefined => {
  if (trip !== undefined && trip.faultCode === shownFault(trip, vital)) return shown(trip);
  if (vital?.state !== 'tripped') return undefined;
  return told?.faultCode === vital.faultCode ? shown(trippedBody(told)) : unreported(vital.faultCode);
};
