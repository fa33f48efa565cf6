import type { Rate } from './token-bucket';

/** What one host gives to those who ask, so that one of them cannot take it from the others, or from STOP. */
export type ServerLimits = {
  /** Connections of all kinds. Far below the file handles of a process: journals and STOP always find one. */
  readonly mostConnections: number;
  /** On top of these, for STOP alone. */
  readonly connectionsForStop: number;
  /** Between two live frames of a screen: faster than an eye follows a needle. */
  readonly frameMs: number;
  /** More screens than these see fewer. */
  readonly screensAtFullRate: number;
  readonly slowFrameMs: number;
  /** A socket that has not said hello by then is let go. */
  readonly helloMs: number;
  /** Head and body of a request, from its first byte. */
  readonly requestMs: number;
  readonly requests: Rate;
  /** From one screen's socket. A person sends a few a second. */
  readonly messages: Rate;
};

export const USUAL_LIMITS: ServerLimits = {
  mostConnections: 256,
  connectionsForStop: 32,
  frameMs: 40,
  screensAtFullRate: 32,
  slowFrameMs: 2_000,
  helloMs: 10_000,
  requestMs: 15_000,
  requests: { most: 300, perSecond: 50 },
  messages: { most: 300, perSecond: 30 },
};
