import { typedNumber } from '../../core/text/number';
import type { Scale } from '../../scene/dial-strip';
import { InputError } from '../input-error';
import type { Arguments, OptionTable } from '../options';

export const MARKS_OPTION = {
  marks: {
    kind: 'text',
    value: 'MARK,...',
    help: 'marks of the dial, as 40,80,120 or E=0,1/2=50,F=100',
  },
} as const satisfies OptionTable;

/** The marks a person typed, evenly by their readings; undefined where none were. Throws InputError. */
export function marksFrom(given: Arguments): Scale['marks'] | undefined {
  const typed = given.text('marks');
  if (typed === undefined) return undefined;
  const marks = typed
    .split(/[,;]/)
    .map((part) => part.trim())
    .map((part) => {
      const equals = part.lastIndexOf('=');
      const label = (equals < 0 ? part : part.slice(0, equals)).trim();
      const read = typedNumber(part.slice(equals + 1));
      if (read.kind === 'refused') throw new InputError(`--marks, "${part}": ${read.message}`);
      if (label === '') throw new InputError(`--marks, "${part}": the mark is missing before the =`);
      return { label, reading: read.value };
    })
    .sort((one, other) => one.reading - other.reading);
  const [lowest, highest] = [marks[0]?.reading ?? 0, marks.at(-1)?.reading ?? 0];
  const isTwice = marks.some(({ reading }, index) => index > 0 && reading === marks[index - 1]?.reading);
  if (isTwice) throw new InputError(`--marks ${typed}: one reading stands there twice`);
  if (marks.length < 2) throw new InputError(`--marks ${typed}: at least two marks make a dial`);
  return marks.map((mark) => ({
    ...mark,
    angleFraction: (mark.reading - lowest) / (highest - lowest),
  }));
}
