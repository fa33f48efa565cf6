import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobState } from '../../../job/state';
import type { Desk } from '../../model/desk';
import { pastedPoints } from '../../model/pasted-points';
import { shownOhm, shownUnit } from '../../model/words';
import { TextField } from '../../parts/text-field';

type PasteProps = { readonly sender: JobState['senders'][number]; readonly desk: Desk };

/** A data sheet table or a spreadsheet column pair; shown as understood before anything is added. */
export function PasteTable({ sender, desk }: PasteProps): JSX.Element {
  const [text, setText] = useState('');
  const { points, problems } = pastedPoints(text);
  const addAll = async (): Promise<void> => {
    for (const { value, resistanceOhm } of points) {
      const point = { senderId: sender.senderId, value, resistanceOhm };
      const outcome = await desk.send({ kind: 'add-sender-point', ...point, source: 'datasheet' });
      if (outcome.kind === 'refused') return;
    }
    setText('');
  };
  return (
    <div class="stack">
      <TextField
        label={`Value in ${shownUnit(sender.unit)} and ohms, one pair a line`}
        rows={6}
        text={text}
        onText={setText}
        hint="Paste from a spreadsheet or a data sheet; a heading row may stay."
      />
      {problems.map((problem) => (
        <p key={problem.row} class="wrong">
          Row {problem.row}: {problem.message}
        </p>
      ))}
      {points.length === 0 ? null : (
        <p class="hint figure">
          Understood: {points.length} points, from {points[0]?.value} {shownUnit(sender.unit)} ={' '}
          {shownOhm(points[0]?.resistanceOhm ?? 0)} to {points.at(-1)?.value} {shownUnit(sender.unit)} ={' '}
          {shownOhm(points.at(-1)?.resistanceOhm ?? 0)}.
        </p>
      )}
      <div>
        <button type="button" class="button" disabled={points.length === 0} onClick={() => void addAll()}>
          Add {points.length === 0 ? 'the points' : `these ${points.length} points`}
        </button>
      </div>
    </div>
  );
}
