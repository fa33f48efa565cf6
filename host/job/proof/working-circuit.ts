import {
  factorFound,
  factorFromFlowing,
  factorInStill,
  leadSourceFrom,
  type DissipationFactor,
  type InPlace,
  type InPlaceRefusal,
  type LeadSource,
} from '../../core/at-work';
import { networkOf, sourceThrough, type Network } from '../../core/network';
import { isRefused } from '../../core/refusal';
import { senderResponse, type FittedSender } from '../../core/sender';
import type { JobState } from '../state/state';
import { senderInVehicle } from '../state/views';
import { heatingFinding, twoCurrentsOf, type HeatingFinding, type TwoCurrents } from './two-currents';

const MILLI = 1e3;

/** Of one sender: what was measured of its heat, and what is fitted around it. Plain data. */
export type WorkingFacts = TwoCurrents & {
  /** The newest measurement in its place. */
  readonly working?: Pick<JobState['workingCurrents'][number], 'method' | 'lead' | 'readings'> | undefined;
  /** What somebody said is fitted; left out for a sender that is not in the vehicle. */
  readonly fitted?: Network;
};

/** What a job knows of them. Source: its journal. */
export function workingFactsOf(state: JobState, senderId: string): WorkingFacts {
  const newest = state.workingCurrents.filter((each) => each.senderId === senderId).at(-1);
  const fitted = senderInVehicle(state) === senderId ? fittedNetwork(state) : undefined;
  return {
    ...twoCurrentsOf(state, senderId),
    working: newest && { method: newest.method, lead: newest.lead, readings: newest.readings },
    ...(fitted === undefined ? {} : { fitted }),
  };
}

const fittedNetwork = ({ fitted, trimRequest }: JobState): Network | undefined => {
  if (fitted === undefined) return undefined;
  const { candidate } = fitted;
  return candidate === undefined
    ? { topology: 'none', parts: [] }
    : networkOf(
        candidate.topology,
        candidate.parts.map((part) => part.resistanceOhm),
        trimRequest?.gaugeOhm,
      );
};

/** What the volts read in the vehicle say of the sender's own heat; undefined until somebody read them. */
export function inPlaceFinding(
  { working }: Pick<WorkingFacts, 'working'>,
  fitted: FittedSender,
): InPlace | InPlaceRefusal | undefined {
  if (working === undefined) return undefined;
  const sender = senderResponse(fitted);
  if ('kind' in sender) return undefined;
  const circuit = { source: working.lead, sender };
  return working.method === 'flowing'
    ? factorFromFlowing(
        working.readings.map(({ when, ...volts }) => ({ ...volts, when: when ?? 'cold' })),
        circuit,
      )
    : factorInStill(
        working.readings.map(({ second, ...volts }) => ({ ...volts, second: second ?? 0 })),
        circuit,
      );
}

/** Best first: measured in flow, with two currents in a bath, in still coolant. */
function dissipationOf(
  inPlace: InPlace | InPlaceRefusal | undefined,
  heating: HeatingFinding | undefined,
): DissipationFactor | undefined {
  const placed = inPlace === undefined || isRefused(inPlace) ? undefined : inPlace;
  if (placed?.method === 'flowing' || heating === undefined) return placed?.factor;
  return factorFound(
    heating.milliwattPerKelvin / MILLI,
    heating.uncertaintyMilliwattPerKelvin / MILLI,
    'two-currents',
  );
}

/** What stands behind the lead by the sweep's own currents, at its least and its most ohms. */
function leadOfSweep({ currents }: Pick<WorkingFacts, 'currents'>): LeadSource | undefined {
  const sorted = [...currents].sort((one, other) => one.resistanceOhm - other.resistanceOhm);
  const [least, most] = [sorted[0], sorted.at(-1)];
  if (least === undefined || most === undefined || least === most) return undefined;
  const [heavy, light] = [least, most].map(({ resistanceOhm: ohm, milliamp }) => ({
    ohm,
    volt: (ohm * milliamp) / MILLI,
  }));
  const source = leadSourceFrom(heavy!, light!);
  return isRefused(source) ? undefined : { volt: source.volt, ohm: source.ohm };
}

/** What stands behind the lead: as somebody measured it in its place, else by the sweep. */
export const leadOf = (facts: WorkingFacts): LeadSource | undefined =>
  facts.working?.lead ?? leadOfSweep(facts);

/** A sender's circuit, where both were measured: what stands behind its lead, and what it sheds in its place. */
export type Circuit = { readonly lead: LeadSource; readonly dissipation: DissipationFactor };

/** The circuit of a sender; undefined where nobody measured it. Source: the measurements of the job. */
export function circuitOf(facts: WorkingFacts, fitted: FittedSender): Circuit | undefined {
  const heating = heatingFinding(facts, fitted);
  const dissipation = dissipationOf(
    inPlaceFinding(facts, fitted),
    heating === undefined || isRefused(heating) ? undefined : heating,
  );
  const lead = leadOf(facts);
  return dissipation === undefined || lead === undefined ? undefined : { lead, dissipation };
}

/** What heats a sender behind what is fitted in its lead. */
export type AtWork = { readonly source: LeadSource; readonly dissipation: DissipationFactor };

/** The circuit as the sender sees it through what is fitted. Source: `sourceThrough`. */
export function atWork(facts: WorkingFacts, sender: FittedSender): AtWork | undefined {
  const circuit = circuitOf(facts, sender);
  if (circuit === undefined) return undefined;
  const { lead, dissipation } = circuit;
  return {
    source: sourceThrough(facts.fitted ?? { topology: 'none', parts: [] }, lead),
    dissipation,
  };
}
