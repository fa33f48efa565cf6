import type { WaitingFor } from './waiting';

/** What the journal asks for now. The key changes with every step, every answer of a seek and every longer wait. */
export type Due =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'step'; readonly key: string; readonly stepId: string }
  /** Every step is read: one more point, or the end of the sweep. */
  | { readonly kind: 'what-follows'; readonly key: string };

type Shown<Kind extends WaitingFor['kind']> = Extract<WaitingFor, { kind: Kind }>;
/** What a step under way shows of itself. */
export type StepShown = Shown<'moving' | 'settling' | 'answer'>;

/**
 * What a job's sweep is doing. `resting`: nothing may be driven before a person starts or resumes. `advancing`: the
 * journal was asked what follows. `moving`, `settling`, `asking`: a step under way, from the first move of the output to
 * the answer.
 */
export type RunState =
  | { readonly name: 'resting'; readonly reason?: string }
  | { readonly name: 'advancing'; readonly key: string }
  | { readonly name: 'moving'; readonly key: string; readonly shows: Shown<'moving'> }
  | { readonly name: 'settling'; readonly key: string; readonly shows: Shown<'settling'> }
  | { readonly name: 'asking'; readonly key: string; readonly shows: Shown<'answer'> };

export type RunEvent =
  /** A person has started or resumed a sweep. */
  | { readonly kind: 'allowed'; readonly due: Due }
  /** The journal has grown. */
  | { readonly kind: 'journal'; readonly due: Due }
  /** A step that was begun under `key` got so far. */
  | { readonly kind: 'shown'; readonly key: string; readonly shows: StepShown }
  /** Somebody or something stopped it; a reason that the journal cannot keep is shown instead. */
  | { readonly kind: 'stopped'; readonly reason?: string }
  /** The output is open and it was not us: a trip, a restart, a lost box. */
  | { readonly kind: 'box-opened' };

/** What is to be done on the way to the next state, in this order. */
export type Deed =
  | 'watch-for-stalls'
  | 'end-watch'
  | 'call-off'
  | 'open'
  | 'open-if-used'
  | 'forget-output'
  | 'ask-what-follows'
  | { readonly begin: string };

export type Turn = { readonly state: RunState; readonly deeds: readonly Deed[] };

export const RESTING: RunState = { name: 'resting' };

const stay = (state: RunState): Turn => ({ state, deeds: [] });

const begun = (due: Exclude<Due, { kind: 'nothing' }>): Turn => {
  const { key } = due;
  switch (due.kind) {
    case 'step':
      return {
        // What was asked before is answered: nobody may answer it again while the next move is worked out.
        state: { name: 'moving', key, shows: { kind: 'moving', stepId: due.stepId } },
        deeds: [{ begin: key }],
      };
    case 'what-follows':
      return { state: { name: 'advancing', key }, deeds: ['ask-what-follows'] };
  }
};

const stopped = (reason: string | undefined): Turn => ({
  state: reason === undefined ? RESTING : { name: 'resting', reason },
  deeds: ['end-watch', 'call-off', 'open'],
});

/** No sweep runs: what may still be made is opened. */
const ended: Turn = { state: RESTING, deeds: ['end-watch', 'call-off', 'open-if-used'] };
const openedByBox: Turn = { state: RESTING, deeds: ['end-watch', 'call-off', 'forget-output'] };

const fromResting = (event: RunEvent): Turn => {
  switch (event.kind) {
    case 'allowed': {
      if (event.due.kind === 'nothing') return ended;
      const { state, deeds } = begun(event.due);
      return { state, deeds: ['watch-for-stalls', ...deeds] };
    }
    case 'journal':
      return ended;
    case 'shown':
      return stay(RESTING);
    case 'stopped':
      return stopped(event.reason);
    case 'box-opened':
      return openedByBox;
  }
};

type Driving = Exclude<RunState, { name: 'resting' }>;

/** The journal asks for the same as before: go on. For something else: that, and nothing of what was under way. */
const follow = (state: Driving, due: Due): Turn => {
  if (due.kind === 'nothing') return ended;
  if (due.key === state.key) return stay(state);
  const next = begun(due);
  return { state: next.state, deeds: ['call-off', ...next.deeds] };
};

const shown = (key: string, shows: StepShown): RunState => {
  switch (shows.kind) {
    case 'moving':
      return { name: 'moving', key, shows };
    case 'settling':
      return { name: 'settling', key, shows };
    case 'answer':
      return { name: 'asking', key, shows };
  }
};

const fromUnderWay = (state: RunState & { name: 'moving' | 'settling' }, event: RunEvent): Turn => {
  switch (event.kind) {
    case 'allowed':
    case 'journal':
      return follow(state, event.due);
    case 'shown':
      return stay(event.key === state.key ? shown(event.key, event.shows) : state);
    case 'stopped':
      return stopped(event.reason);
    case 'box-opened':
      return openedByBox;
  }
};

/** A step that was decided and a question that was asked stand until the journal moves on, or it is called off. */
const fromStanding = (state: RunState & { name: 'advancing' | 'asking' }, event: RunEvent): Turn => {
  switch (event.kind) {
    case 'allowed':
    case 'journal':
      return follow(state, event.due);
    case 'shown':
      return stay(state);
    case 'stopped':
      return stopped(event.reason);
    case 'box-opened':
      return openedByBox;
  }
};

/**
 * The next state of a sweep, and what is to be done for it. Whatever is not known for certain ends in `resting`, and
 * from there only a person's start or resume leads on.
 */
export const nextRun = (state: RunState, event: RunEvent): Turn => {
  switch (state.name) {
    case 'resting':
      return fromResting(event);
    case 'advancing':
    case 'asking':
      return fromStanding(state, event);
    case 'moving':
    case 'settling':
      return fromUnderWay(state, event);
  }
};

/** What a screen shows of it. */
export const waitingIn = (state: RunState): WaitingFor => {
  switch (state.name) {
    case 'resting':
      return state.reason === undefined ? { kind: 'nothing' } : { kind: 'person', reason: state.reason };
    case 'advancing':
      return { kind: 'nothing' };
    case 'moving':
    case 'settling':
    case 'asking':
      return state.shows;
  }
};
