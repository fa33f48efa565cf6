/** Codes of this folder's refusals and their figures. */
export type SenderRefusals = {
  /** The value, in the sender's unit, at which the resistance turns back. */
  readonly SENDER_NOT_MONOTONE: { readonly turnsBackAt: number; readonly unit: string };
};
