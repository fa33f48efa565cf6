import type { JSX } from 'preact';
import type { Candidate } from '../../../core/network';
import type { Gauge } from '../../../job/schema/gauge';
import { printed } from '../../../words/notation';
import { partsPlaced } from '../../../words/trim-answer';
import { shownError, shownReading } from '../../parts/words';

type LabelProps = {
  readonly gauge: Gauge;
  readonly candidate: Candidate;
  readonly jobId: string;
  /** The day of the last entry, yyyy-mm-dd. */
  readonly day: string;
};

/** Prints the label and nothing else; the page is as before when the printer has it. */
function printLabel(): void {
  const { dataset } = document.body;
  dataset['print'] = 'label';
  addEventListener('afterprint', () => delete dataset['print'], { once: true });
  print();
}

/** What stays on the loom beside the part: who comes next must know of it. */
export function LoomLabel({ gauge, candidate, jobId, day }: LabelProps): JSX.Element | null {
  if (candidate.parts.length === 0) return null;
  const rows = [...candidate.errorTable].sort((one, other) => one.error - other.error);
  const ends = [rows.at(-1), rows[0]].flatMap((row) =>
    row === undefined ? [] : [`${shownError(row.error, gauge)} at ${shownReading(row.trueValue, gauge)}`],
  );
  const middle = candidate.errorTable[Math.floor(candidate.errorTable.length / 2)];
  return (
    <div class="loom">
      <p class="loom-label">
        <b>{partsPlaced(candidate, printed)}</b>
        {middle === undefined ? null : (
          <span>
            Sender {printed.ohm(middle.senderOhm)} at {shownReading(middle.trueValue, gauge)}. Reads{' '}
            {ends.join(', ')}.
          </span>
        )}
        <span>
          Job {jobId}, {day}
        </span>
      </p>
      <button type="button" class="button button-plain" onClick={printLabel}>
        Print this label
      </button>
    </div>
  );
}
