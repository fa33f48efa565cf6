import type { Guard, GuardView, Trip } from './guard';
import { inARow } from './in-a-row';

/** Made and measured may differ by this much: contacts, leads, temperature of the parts, gain of the meter. */
const ALLOWED_MILLIOHM = 600;
const ALLOWED_FRACTION = 0.02;
/** What the meter may be wrong by, for small currents: three times its noise. */
const NOISE_MICROVOLT = 400;
const NOISE_MICROAMP = 10;
/** Below this current a resistance is not known at all. */
const ENOUGH_MICROAMP = 200;
const SAMPLES_IN_A_ROW = 5;
/** With this much voltage on the terminals and next to no current, nothing is made. */
const FED_MICROVOLT = 500_000;
const OPEN_TIMES_MADE = 10;

function differs(view: Readonly<GuardView>): Trip | undefined {
  const { terminalMicrovolt, currentMicroamp, madeMilliohm } = view;
  if (!(Math.abs(currentMicroamp) >= ENOUGH_MICROAMP)) {
    const wouldFlowMicroamp = (terminalMicrovolt / madeMilliohm) * 1000;
    const isOpen = terminalMicrovolt > FED_MICROVOLT && wouldFlowMicroamp > OPEN_TIMES_MADE * ENOUGH_MICROAMP;
    const measured = (terminalMicrovolt / Math.max(1, Math.abs(currentMicroamp))) * 1000;
    return isOpen ? { fault: 'OUTPUT_OPEN', measured, limit: madeMilliohm } : undefined;
  }
  const measured = (terminalMicrovolt / currentMicroamp) * 1000;
  const noise = (NOISE_MICROVOLT * 1000 + madeMilliohm * NOISE_MICROAMP) / Math.abs(currentMicroamp);
  const allowed = ALLOWED_MILLIOHM + madeMilliohm * ALLOWED_FRACTION + noise;
  return Math.abs(measured - madeMilliohm) <= allowed
    ? undefined
    : { fault: 'CONTACT_STUCK', measured, limit: madeMilliohm };
}

/** Opens when the resistance measured is not the one made: a contact is stuck, welded or does not close. */
export const contactGuard = (): Guard =>
  inARow({
    samples: SAMPLES_IN_A_ROW,
    isWatching: ({ isOutputClosed, isSettled }) => isOutputClosed && isSettled,
    troubleIn: differs,
  });
