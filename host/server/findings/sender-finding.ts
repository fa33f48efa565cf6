import { isRefused, type Refusal } from '../../core/refusal';
import { fitSender, senderOhmAt, toleranceBand, type FittedSender } from '../../core/sender';
import type { LinePoint, SenderFinding } from '../../job/findings';
import { substitutionAt } from '../../job/proof/substitution';
import { heatingFinding } from '../../job/proof/two-currents';
import { atWork, inPlaceFinding } from '../../job/proof/working-circuit';
import type { SenderTask } from './tasks';

const LINE_PARTS = 60;

export const fittedSender = ({ points, unit, model }: SenderTask): FittedSender | Refusal =>
  fitSender(points, { unit, ...(model === undefined ? {} : { model }) });

/** One sender's curve, the line to draw of it, what its tolerance allows, and what its own current does to it. */
export function senderFinding(task: SenderTask): SenderFinding {
  const fitted = fittedSender(task);
  const { senderId, tolerancePercent } = task;
  if (isRefused(fitted)) return { senderId, fitted, line: [] };
  const heating = heatingFinding(task, fitted);
  const inPlace = inPlaceFinding(task, fitted);
  return {
    senderId,
    fitted,
    line: senderLine(fitted),
    substitution: substitutionAt(task.gauge, senderId, { sender: fitted, atWork: atWork(task, fitted) }),
    ...(tolerancePercent === undefined ? {} : { tolerance: toleranceLine(fitted, tolerancePercent) }),
    ...(heating === undefined ? {} : { heating }),
    ...(inPlace === undefined ? {} : { inPlace }),
  };
}

const placesOf = ({ knownFrom, knownTo }: FittedSender): number[] =>
  Array.from(
    { length: LINE_PARTS + 1 },
    (_, index) => knownFrom + ((knownTo - knownFrom) * index) / LINE_PARTS,
  );

/** The line to draw of a sender, over what was measured. */
export const senderLine = (sender: FittedSender): LinePoint[] =>
  placesOf(sender)
    .map((value) => senderOhmAt(sender, value))
    .flatMap((at) =>
      isRefused(at)
        ? []
        : [
            {
              x: at.value,
              y: at.resistanceOhm,
              low: Math.max(0, at.resistanceOhm - at.expandedUncertaintyOhm),
              high: at.resistanceOhm + at.expandedUncertaintyOhm,
            },
          ],
    );

/** Resistances that a part within the maker's tolerance may have; left out where a part would leave the known range. */
const toleranceLine = (sender: FittedSender, tolerancePercent: number): LinePoint[] =>
  placesOf(sender).flatMap((value) => {
    const band = toleranceBand(sender, value, tolerancePercent);
    if (isRefused(band)) return [];
    return [{ x: value, y: (band.lowOhm + band.highOhm) / 2, low: band.lowOhm, high: band.highOhm }];
  });
