import type { JSX } from 'preact';
import type { HookUp } from '../../job/hook-up';
import { counted } from '../../words/sentence';
import { HookUpDrawing } from '../drawing/hook-up';
import { Fold } from '../parts/fold';

/** The picture beside a step that touches a wire; on the simulated bench it is there, but folded. */
export function LeadsFold({
  hookUp,
  isOpen,
}: {
  readonly hookUp: HookUp;
  readonly isOpen: boolean;
}): JSX.Element {
  const [first] = hookUp.notes;
  return (
    <Fold
      line="Which lead goes where"
      says={`${counted(hookUp.joins.length, 'connection')}. ${first ?? ''}`}
      open={isOpen}
    >
      <HookUpDrawing hookUp={hookUp} />
    </Fold>
  );
}
