/** A source behind the sender lead that no two readings give, and a sender that its circuit heats without end. */
export type AtWorkRefusals = {
  /** `lightOhm` is left out for a lead with nothing on it. */
  readonly LEAD_READINGS: {
    readonly heavyOhm: number;
    readonly heavyVolt: number;
    readonly lightOhm?: number;
    readonly lightVolt: number;
  };
  /** Beyond `watt` in it there is no steady state at `value`. */
  readonly SENDER_RUNS_AWAY: {
    readonly volt: number;
    readonly ohm: number;
    readonly value: number;
    readonly unit: string;
    readonly milliwattPerKelvin: number;
    readonly watt: number;
  };
  /** Readings of the measurement in place. */
  readonly IN_PLACE_TOO_FEW: {
    readonly given: number;
    readonly needed: number;
    readonly method: 'flowing' | 'still';
  };
  readonly IN_PLACE_VOLTS: {
    readonly row: number;
    readonly senderVolt: number;
    readonly openVolt: number;
  };
  readonly IN_PLACE_NOT_SEEN: { readonly changePercent: number; readonly uncertaintyPercent: number };
  readonly IN_PLACE_NO_TEMPERATURE: { readonly unit: string };
};
