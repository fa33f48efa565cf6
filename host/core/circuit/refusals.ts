/** Codes of this folder's refusals and their figures. */
export type CircuitRefusals = {
  readonly OFFSET:
    | { readonly wrong: 'circuit'; readonly supplyVolt: number; readonly senderOhm: number }
    | { readonly wrong: 'offset'; readonly offsetVolt: number; readonly supplyVolt: number };
  readonly STABILISER: { readonly effectiveVolt: number; readonly batteryVolt: number };
  readonly IN_CIRCUIT:
    | { readonly gaugeOhm: number }
    | { readonly studVolt: number; readonly supplyVolt: number };
};
