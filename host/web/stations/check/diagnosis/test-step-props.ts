import type { AskedTest } from '../../../../job/findings';
import type { JobCommand } from '../../../../job/schema/commands';
import type { StationProps } from '../../station-props';

/** What a test is asked with. */
export type TestStepProps = StationProps & {
  readonly asked: AskedTest;
  readonly why: string;
  readonly send: (command: JobCommand) => void;
};
