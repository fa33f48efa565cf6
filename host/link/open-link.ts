import { decodeForHost, FrameReader, PROTOCOL_MAJOR, PROTOCOL_MINOR, stateName } from '../../protocol';
import type { AnyMessage, Answer, EventMessage, Fields, Frame, RequestName } from '../../protocol';
import { systemClock } from './clock';
import { Exchange } from './exchange';
import { linkProblem } from './problems';
import type {
  BoxLink,
  ByteConnection,
  ByteSource,
  LinkClock,
  LinkEvent,
  LinkListener,
  LinkProblem,
  LinkResult,
  LinkState,
} from './types';

export type LinkOptions = {
  readonly clock?: LinkClock;
  /** Wait for an answer before the same frame is sent again. */
  readonly requestMs?: number;
  readonly tries?: number;
  /** How long a box that is still starting may take to answer the greeting. */
  readonly greetingMs?: number;
  readonly heartbeatMs?: number;
  readonly channel?: number;
  /** Any number, different at each opening, so that an answer to an earlier greeting is known as such. */
  readonly makeNonce?: () => number;
  /** Today as days since 1970-01-01; the box has no calendar. */
  readonly today?: () => number;
};

/** The heartbeat also carries the live volts and ohms, which a person wants to see move: ten a second. */
const DEFAULT_HEARTBEAT_MS = 100;
/** However busy the line is, what the box is doing is never known later than this and one request. */
const OLDEST_HEARTBEAT_MS = 1000;
const DEFAULT_REQUEST_MS = 250;
const DEFAULT_TRIES = 3;
const DEFAULT_GREETING_MS = 3000;
const DAY_MS = 86_400_000;
const NONCE_RANGE = 0x1_0000_0000;

type Settings = Required<LinkOptions>;

const withDefaults = (options: LinkOptions): Settings => ({
  clock: systemClock,
  requestMs: DEFAULT_REQUEST_MS,
  tries: DEFAULT_TRIES,
  greetingMs: DEFAULT_GREETING_MS,
  heartbeatMs: DEFAULT_HEARTBEAT_MS,
  channel: 0,
  makeNonce: () => Math.floor(Math.random() * NONCE_RANGE),
  today: () => Math.floor(Date.now() / DAY_MS),
  ...options,
});

/**
 * Opens one connection to a box and greets it. The link is `opening` at once; follow it with `subscribe`. It ends for
 * good as `silent`, `failed` or `closed`; nothing is ever sent again by itself.
 */
export function openLink(source: ByteSource, options: LinkOptions = {}): BoxLink {
  return new Link(source, withDefaults(options));
}

const isAtRest = ({ state }: Answer<'hello'>): boolean =>
  stateName(state) === 'safe' || stateName(state) === 'tripped';

class Link implements BoxLink {
  readonly #source: ByteSource;
  readonly #settings: Settings;
  readonly #listeners = new Set<LinkListener>();
  readonly #reader: FrameReader;
  readonly #exchange: Exchange;
  readonly #nonce: number;
  #state: LinkState = 'opening';
  #greeting: Answer<'hello'> | undefined;
  #problem: LinkProblem | undefined;
  #connection: ByteConnection | undefined;
  #cancelHeartbeat: () => void = () => undefined;
  #lastBeatMs = 0;
  #heardAnything = false;
  #lastTrip: string | undefined;
  #closing: Promise<void> | undefined;
  readonly #connecting: Promise<void>;

  constructor(source: ByteSource, settings: Settings) {
    this.#source = source;
    this.#settings = settings;
    this.#nonce = settings.makeNonce();
    this.#reader = new FrameReader({
      frame: (frame) => this.#take(frame),
      damage: (code) => this.#tell({ kind: 'frame-damaged', code, atMs: settings.clock.nowMs() }),
    });
    this.#exchange = new Exchange({
      title: source.title,
      clock: settings.clock,
      timing: settings,
      // Not always 0: the box repeats its last answer for a type and sequence it knows from an earlier opening.
      firstSequence: this.#nonce,
      send: (request, bytes) => {
        this.#tellFrame('out', request);
        this.#connection?.write(bytes);
      },
      silent: () => this.#fellSilent(),
    });
    this.#connecting = this.#connect().catch((error: unknown) => {
      const detail = error instanceof Error ? error.message : String(error);
      this.#end('failed', this.#say('LINK_PORT_ERROR', detail));
    });
  }

  get state(): LinkState {
    return this.#state;
  }

  get greeting(): Answer<'hello'> | undefined {
    return this.#greeting;
  }

  get problem(): LinkProblem | undefined {
    return this.#problem;
  }

  async request<N extends RequestName>(name: N, fields: Fields<N>): Promise<LinkResult<N>> {
    if (this.#state !== 'live') {
      const notLive = linkProblem('LINK_NOT_LIVE', { title: this.#source.title, detail: this.#state });
      return { kind: 'link-failed', ...(this.#problem ?? notLive) };
    }
    const result = await this.#exchange.ask(name, fields);
    if (result.kind === 'refused' && result.code === 'GREETING_FIRST')
      this.#end('failed', this.#say('LINK_RESTARTED'));
    return result;
  }

  subscribe(listener: LinkListener): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  close(): Promise<void> {
    if (this.#state !== 'closed' && this.#state !== 'silent' && this.#state !== 'failed') {
      this.#end('closed', this.#say('LINK_CLOSED'));
    }
    return this.#closing ?? Promise.resolve();
  }

  async #connect(): Promise<void> {
    const connected = await this.#source.connect({
      received: (bytes) => this.#received(bytes),
      lost: (problem) => this.#end('failed', problem),
    });
    if ('code' in connected) {
      this.#end('failed', connected);
      return;
    }
    this.#connection = connected;
    // Closed or lost while it was opening: the stream exists now and has to be freed.
    if (this.#state !== 'opening') {
      await connected.close();
      return;
    }
    this.#enter('greeting');
    void this.#greet();
  }

  async #greet(): Promise<void> {
    const { greetingMs, requestMs, today } = this.#settings;
    const result = await this.#exchange.ask(
      'hello',
      {
        protocolMajorMin: PROTOCOL_MAJOR,
        protocolMajorMax: PROTOCOL_MAJOR,
        hostNonce: this.#nonce,
        hostDay: today(),
      },
      Math.max(1, Math.ceil(greetingMs / requestMs)),
    );
    if (this.#state !== 'greeting') return;
    if (result.kind === 'link-failed') this.#end('failed', result);
    else if (result.kind === 'refused') this.#end('failed', this.#refusedGreeting(result));
    else if (result.fields.hostNonce !== this.#nonce) void this.#greet();
    else await this.#greeted(result.fields);
  }

  #refusedGreeting(refusal: { readonly code: string; readonly message: string }): LinkProblem {
    const code = refusal.code === 'PROTOCOL_VERSION' ? 'LINK_VERSION' : 'LINK_NOT_OUR_BOX';
    return this.#say(code, refusal.message);
  }

  async #greeted(greeting: Answer<'hello'>): Promise<void> {
    if (greeting.protocolMajor !== PROTOCOL_MAJOR) {
      const detail = `box ${greeting.protocolMajor}.${greeting.protocolMinor}, program ${PROTOCOL_MAJOR}.${PROTOCOL_MINOR}`;
      this.#end('failed', this.#say('LINK_VERSION', detail));
      return;
    }
    if (!isAtRest(greeting) && !(await this.#openLeftover())) return;
    this.#greeting = greeting;
    this.#lastBeatMs = this.#settings.clock.nowMs();
    this.#enter('live');
    this.#scheduleHeartbeat();
  }

  /** What an earlier connection closed must not be kept closed by the heartbeats of this one. */
  async #openLeftover(): Promise<boolean> {
    const opened = await this.#exchange.ask('open', { channel: this.#settings.channel });
    if (this.#state !== 'greeting') return false;
    if (opened.kind === 'answer') return true;
    this.#end('failed', this.#say('LINK_SILENT'));
    return false;
  }

  #scheduleHeartbeat(): void {
    this.#cancelHeartbeat = this.#settings.clock.after(this.#settings.heartbeatMs, () => void this.#beat());
  }

  /**
   * A request that is still under way renews the lease by itself and shows a silent box sooner than a queue would; one
   * request straight after the other would leave no gap for a heartbeat, which then takes its turn among them.
   */
  async #beat(): Promise<void> {
    if (this.#state !== 'live') return;
    const isOld = this.#settings.clock.nowMs() - this.#lastBeatMs >= OLDEST_HEARTBEAT_MS;
    if (this.#exchange.isIdle || isOld) await this.request('heartbeat', { channel: this.#settings.channel });
    if (this.#state === 'live') this.#scheduleHeartbeat();
  }

  #received(bytes: Uint8Array): void {
    if (this.#state !== 'greeting' && this.#state !== 'live') return;
    this.#heardAnything = true;
    this.#reader.push(bytes);
  }

  #take(frame: Frame): void {
    const message = decodeForHost(frame);
    if (message.kind === 'unreadable') {
      this.#tell({ kind: 'frame-damaged', code: message.code, atMs: this.#settings.clock.nowMs() });
      return;
    }
    this.#tellFrame('in', message);
    if (message.kind === 'event') {
      this.#takeEvent(message);
      return;
    }
    if (!this.#exchange.answered(message)) return;
    if (message.kind === 'answer' && message.name === 'heartbeat') {
      this.#lastBeatMs = this.#settings.clock.nowMs();
      this.#tell({ kind: 'heartbeat', fields: message.fields, atMs: this.#settings.clock.nowMs() });
    }
  }

  /** The box repeats an event until it is acknowledged; the listeners hear it once. */
  #takeEvent(event: EventMessage<'tripped'>): void {
    if (this.#state !== 'live') return;
    void this.request('acknowledge', { eventSequence: event.sequence });
    const trip = `${event.sequence} ${event.fields.boxMs}`;
    if (trip === this.#lastTrip) return;
    this.#lastTrip = trip;
    this.#tell({ kind: 'tripped', fields: event.fields });
  }

  #fellSilent(): void {
    if (this.#state === 'live') this.#end('silent', this.#say('LINK_SILENT'));
    else
      this.#end(
        'failed',
        this.#say('LINK_NOT_OUR_BOX', this.#heardAnything ? 'it sends something else' : 'no answer'),
      );
  }

  #end(state: 'silent' | 'failed' | 'closed', problem: LinkProblem): void {
    if (this.#closing !== undefined) return;
    this.#cancelHeartbeat();
    this.#problem = problem;
    this.#closing = this.#free();
    this.#enter(state, problem);
    this.#exchange.end(problem);
  }

  async #free(): Promise<void> {
    await (this.#connection === undefined ? this.#connecting : this.#connection.close());
  }

  #enter(state: LinkState, reason?: LinkProblem): void {
    this.#state = state;
    this.#tell(reason === undefined ? { kind: 'state', state } : { kind: 'state', state, reason });
  }

  #say(code: LinkProblem['code'], detail?: string): LinkProblem {
    const { title } = this.#source;
    return linkProblem(code, detail === undefined ? { title } : { title, detail });
  }

  #tellFrame(direction: 'out' | 'in', message: AnyMessage): void {
    const { name, sequence, fields } = message;
    this.#tell({ kind: 'frame', direction, name, sequence, fields, atMs: this.#settings.clock.nowMs() });
  }

  #tell(event: LinkEvent): void {
    for (const listener of [...this.#listeners]) listener(event);
  }
}
