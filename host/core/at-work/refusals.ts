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
};
