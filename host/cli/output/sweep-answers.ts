import type { OpenJob } from '../../bench';
import { typedNumber } from '../../core/text/number';
import type { JobCommand } from '../../job';
import { printedReading } from '../../job/state/printed-reading';

/** What is asked in the terminal, and what a typed word means there: a command, or what was wrong with it. */
export type Question = {
  readonly text: string;
  readonly command: (word: string) => JobCommand | string;
};

export function needleCommand(word: string, stepId: string): JobCommand | string {
  const needle = ({ b: 'below', below: 'below', a: 'above', above: 'above', o: 'on', on: 'on' } as const)[
    word
  ];
  return needle === undefined
    ? (commonCommand(word, stepId) ?? 'type b below, a above, o on; u, s, w, p or q')
    : { kind: 'give-needle', stepId, needle };
}

export function readingCommand(
  word: string,
  stepId: string,
  desk: Pick<OpenJob, 'state'>,
): JobCommand | string {
  if (word === 'low' || word === 'high') {
    const readings = desk.state.gauge.marks.map((mark) => mark.reading);
    const reading = word === 'low' ? Math.min(...readings) : Math.max(...readings);
    return { kind: 'give-reading', stepId, reading, atStop: word };
  }
  const common = commonCommand(word, stepId);
  if (common !== undefined) return common;
  const printed = printedReading(desk.state.gauge, word);
  if (printed !== undefined) return { kind: 'give-reading', stepId, reading: printed };
  const read = typedNumber(word, word.includes(',') ? 'decimal' : 'unknown');
  if (read.kind === 'refused')
    return `${read.message} Type what the needle shows, what is printed at its mark, low or high at a stop, or u, r, s, w, p, q`;
  return { kind: 'give-reading', stepId, reading: read.value };
}

export function commonCommand(word: string, stepId: string): JobCommand | undefined {
  switch (word) {
    case 'u':
      return { kind: 'undo' };
    case 'r':
      return { kind: 'repeat-step', stepId };
    case 's':
      return { kind: 'skip-step', stepId };
    case 'w':
      return { kind: 'wait-longer', stepId };
    case 'p':
      return { kind: 'pause-sweep', reason: 'paused in the terminal' };
    default:
      return undefined;
  }
}
