import type { EventOf } from '../schema/events';
import type { Draft } from './draft';
import { kept } from './entries';

/** A sender described again replaces its earlier description, and is the newest. */
const described = ({ senders, plain }: Draft, event: EventOf<'sender-described'>): void => {
  if (event.forTrim === true) plain.trimSenderId = event.senderId;
  senders.delete(event.senderId);
  senders.set(event.senderId, kept(event));
};

type SenderEvent = EventOf<
  'sender-described' | 'sender-point' | 'sender-point-struck' | 'self-heating' | 'working-current'
>;

/** Folds one event about senders into the draft. */
export const foldSender = (draft: Draft, event: SenderEvent): void => {
  switch (event.kind) {
    case 'sender-described':
      return described(draft, event);
    case 'sender-point':
      return draft.senderPoints.add(kept(event));
    case 'sender-point-struck':
      return draft.senderPoints.strike(event.pointId, event.reason);
    case 'self-heating':
      draft.grown.selfHeating.push(kept(event));
      return;
    case 'working-current':
      draft.grown.workingCurrents.push(kept(event));
      return;
  }
};
