import type { Answer, EventFields, Fields, RequestName } from '../../protocol';

/**
 * `live` is reached only by a greeting answered on THIS opening (opening a port can reset the board). `silent` (the box
 * stopped answering) and `failed` (port lost, not our box, wrong protocol version) are final for one link: a new link is
 * made for the next try, see `keepLink`.
 */
export type LinkState = 'closed' | 'opening' | 'greeting' | 'live' | 'silent' | 'failed';

export type LinkProblemCode =
  | 'LINK_NO_BOX'
  | 'LINK_WHICH_BOX'
  | 'LINK_NO_PORTS'
  | 'LINK_SEVERAL_PORTS'
  | 'LINK_NO_SUCH_PORT'
  | 'LINK_NOT_SERIAL'
  | 'LINK_NO_PERMISSION'
  | 'LINK_PORT_BUSY'
  | 'LINK_PORT_ERROR'
  | 'LINK_OPEN_TIMEOUT'
  | 'LINK_NOT_OUR_BOX'
  | 'LINK_VERSION'
  | 'LINK_UNPLUGGED'
  | 'LINK_SILENT'
  | 'LINK_RESTARTED'
  | 'LINK_NOT_LIVE'
  | 'LINK_CLOSED'
  | 'LINK_OVERTAKEN'
  | 'LINK_BAD_REQUEST'
  | 'LINK_BAD_ANSWER'
  | 'LINK_NO_SIMULATOR';

/** Why a link is not live, in one sentence that says what to do. */
export type LinkProblem = { readonly code: LinkProblemCode; readonly message: string };

export type LinkResult<N extends RequestName> =
  | { readonly kind: 'answer'; readonly fields: Answer<N> }
  /** The box understood and said no; `code` is the box's refusal by name. */
  | { readonly kind: 'refused'; readonly code: string; readonly message: string }
  /** Nothing is known about whether the box acted, except that its output opens by itself within the dead-man time. */
  | { readonly kind: 'link-failed'; readonly code: LinkProblemCode; readonly message: string };

export type LinkEvent =
  | { readonly kind: 'state'; readonly state: LinkState; readonly reason?: LinkProblem }
  /** Sent once per trip of the box, however often the box repeats it. */
  | { readonly kind: 'tripped'; readonly fields: EventFields<'tripped'> }
  /** Every answered heartbeat, whoever asked for it: the box's live numbers. */
  | { readonly kind: 'heartbeat'; readonly fields: Answer<'heartbeat'>; readonly atMs: number }
  /** Only from `keepLink`: the box answered a new greeting with another boot nonce, so its output is open. */
  | { readonly kind: 'restarted'; readonly greeting: Answer<'hello'>; readonly isOtherBox: boolean }
  /** Only from `keepLink`: the next try starts after this wait. */
  | { readonly kind: 'waiting'; readonly retryInMs: number; readonly reason: LinkProblem }
  | {
      readonly kind: 'frame';
      readonly direction: 'out' | 'in';
      readonly name: string;
      readonly sequence: number;
      readonly fields: Readonly<Record<string, number>>;
      readonly atMs: number;
    }
  | { readonly kind: 'frame-damaged'; readonly code: string; readonly atMs: number };

export type LinkListener = (event: LinkEvent) => void;

export type BoxLink = {
  readonly state: LinkState;
  /** The box's answer to the greeting of this opening; undefined until `live`. */
  readonly greeting: Answer<'hello'> | undefined;
  /** Why the link is `silent` or `failed`. */
  readonly problem: LinkProblem | undefined;
  /**
   * Asks the box and waits for its answer; at most one request is on the wire, the others wait their turn, and `open`
   * goes before all of them. Never rejects; answers `link-failed` at once when the link is not live.
   */
  request<N extends RequestName>(name: N, fields: Fields<N>): Promise<LinkResult<N>>;
  /** Returns the function that ends the subscription. */
  subscribe(listener: LinkListener): () => void;
  /** Ends the link; may be called twice. The box opens its output when the heartbeats stop. */
  close(): Promise<void>;
};

/** Timers and time of day, passed in so that tests run without waiting. */
export type LinkClock = {
  /** Milliseconds that only go forward. */
  nowMs(): number;
  /** Calls `action` once after `delayMs`; returns the function that calls it off. */
  after(delayMs: number, action: () => void): () => void;
};

/** One opening of one byte stream. `lost` is called at most once, and never after `close` was called. */
export type ByteConnection = {
  write(bytes: Uint8Array): void;
  /** Resolves when the stream is freed, or after the close deadline; never rejects. */
  close(): Promise<void>;
};

export type ByteListener = {
  readonly received: (bytes: Uint8Array) => void;
  readonly lost: (problem: LinkProblem) => void;
};

/** Something that can be opened as a stream of bytes, each time with a fresh object underneath. */
export type ByteSource = {
  /** What a person calls it: the port's path, or "simulated box (two-coil-fuel)". */
  readonly title: string;
  connect(listener: ByteListener): Promise<ByteConnection | LinkProblem>;
};

/** One serial port of this machine; the identity fields are there for USB devices only. */
export type PortInfo = {
  readonly path: string;
  readonly manufacturer: string | undefined;
  readonly vendorId: string | undefined;
  readonly productId: string | undefined;
  readonly serialNumber: string | undefined;
};
