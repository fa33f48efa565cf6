import type { GaugeCurve } from '../../../core/curve/types';
import type { Findings, TrimFinding } from '../../../job/findings';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';

export type AnswerProps = {
  readonly state: JobState;
  readonly finding: TrimFinding;
  readonly findings: Findings;
  readonly send: (command: JobCommand) => void;
  readonly goOn: () => void;
  readonly toSender: () => void;
  /** Opens the sender station for a sender that is not there yet. */
  readonly tryAnother: () => void;
};

/** The gauge's curve, where there is one. */
export const curveOf = (findings: Findings): GaugeCurve | undefined =>
  findings.curve?.curve.kind === 'curve' ? findings.curve.curve : undefined;
