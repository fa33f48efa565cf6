import { senderPointsOf, type Card } from '../../catalogue';
import type { DissipationFactor } from '../../core/at-work';
import {
  fitSender,
  senderPointFault,
  type FittedSender,
  type SenderLawName,
  type SenderPoint,
} from '../../core/sender';
import { countedSenderPoints, type JobState } from '../../job';
import type { Surroundings } from '../command';
import { senderTable, type SenderTable } from '../../core/text/sender-table';
import { fileWarning, inputError } from './columns';
import { InputError, refusedError } from '../input-error';
import { readInput, type Input } from './input-file';
import { pointsFromSenderJson } from './saved-curves';
import { plain } from '../../words/notation';
import { pointFaultWords } from '../../words/refusal/sender';

export type SenderInput = {
  readonly file: string;
  readonly unit: string;
  readonly points: readonly SenderPoint[];
  readonly model?: SenderLawName | undefined;
  /** What it sheds in its place, where that was measured. */
  readonly dissipation?: DissipationFactor | undefined;
  readonly warnings: readonly string[];
};

/** Points of a sender from CSV, or from the JSON this program's `sender` command wrote. */
export async function readSenderInput(path: string, surroundings: Surroundings): Promise<SenderInput> {
  return senderInputOf(await readInput(path, surroundings));
}

/** The same of what was read already. */
export function senderInputOf(input: Input): SenderInput {
  switch (input.kind) {
    case 'csv':
      return senderFromText(input.file, input.text);
    case 'json':
      return pointsFromSenderJson(input.file, input.document);
    case 'job':
      return senderFromJob(input.file, input.job);
    case 'card':
      return senderFromCard(input.file, input.card);
  }
}

/** The counted points of a card of the catalogue. */
export function senderFromCard(file: string, card: Card): SenderInput {
  if (card.kind !== 'sender') throw new InputError('this card is of a gauge', { file });
  const warnings = card.simulated ? [`${file}: SIMULATED points`] : [];
  return { file, unit: card.unit, points: senderPointsOf(card), warnings };
}

/** Counted points of the only sender of a job. */
function senderFromJob(file: string, job: JobState): SenderInput {
  const [senderId, ...others] = [...new Set(job.senderPoints.map((point) => point.senderId))];
  if (senderId === undefined) throw new InputError('this job has no sender points yet', { file });
  if (others.length > 0)
    throw new InputError(`this job has ${others.length + 1} senders; give the one meant as a CSV`, { file });
  const unit = job.senders.find((sender) => sender.senderId === senderId)?.unit ?? job.gauge.unit;
  return { file, unit, points: countedSenderPoints(job, senderId), warnings: [] };
}

function senderFromText(file: string, text: string): SenderInput {
  const read = senderTable(text);
  if (read.kind !== 'sender-table') throw inputError(file, read);
  const [first, ...others] = read.problems;
  if (first !== undefined) throw inputError(file, first, others);
  const { points, unit = '' } = read;
  if (points.length === 0) throw new InputError('there is a header row and nothing below it', { file });
  rejectImpossible(file, read, unit);
  return { file, unit, points, warnings: read.warnings.map((warning) => fileWarning(file, warning)) };
}

/** What no sender can have is bad input, told by its row and column; the fit would tell it by the number of the point. */
function rejectImpossible(file: string, { points, columns }: SenderTable, unit: string): void {
  for (const point of points) {
    const fault = senderPointFault(point, unit);
    if (fault === undefined) continue;
    throw new InputError(pointFaultWords(fault, unit, plain), {
      file,
      row: point.row,
      column: columns[fault.of]?.title,
    });
  }
}

export const notNegative = (value: number): string | undefined =>
  value < 0 ? 'it cannot be negative' : undefined;

/** Fits a sender to its input. Refuses as the fit does, naming the file. */
export function fitSenderInput(input: SenderInput, model?: SenderLawName): FittedSender {
  const chosen = model ?? input.model;
  const fitted = fitSender(input.points, {
    unit: input.unit,
    ...(chosen === undefined ? {} : { model: chosen }),
  });
  if (fitted.kind === 'refused') throw refusedError(fitted, `${input.file}: `);
  return fitted;
}
