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
import type { TrimOptions } from '../../core/network';
import { isRefused } from '../../core/refusal';
import { senderResponse, type FittedSender } from '../../core/sender';
import type { SenderTask } from './tasks';
import type { HeatingFinding } from '../../job/findings';

const MILLI = 1e3;

/** What the volts read in the vehicle say of the sender's own heat; undefined until somebody read them. */
export function inPlaceFinding(
  { working }: Pick<SenderTask, 'working'>,
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
function leadOfSweep({ currents }: Pick<SenderTask, 'currents'>): LeadSource | undefined {
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

/** What a trim is told of the sender at work: nothing where nobody measured what it sheds. */
export function atWorkOptions(
  task: SenderTask,
  fitted: FittedSender,
  heating: HeatingFinding | undefined,
): Pick<TrimOptions, 'lead' | 'dissipation'> {
  const dissipation = dissipationOf(inPlaceFinding(task, fitted), heating);
  const lead = task.working?.lead ?? leadOfSweep(task);
  return dissipation === undefined || lead === undefined ? {} : { lead, dissipation };
}
