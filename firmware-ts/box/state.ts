import type { FaultName, JobKind, StateName } from '../../protocol';
import { states } from '../../protocol';
import type { JobLimits } from '../guard/job-limits';

/** A job taken on by `arm`. */
export type Job = { readonly kind: JobKind; readonly limits: JobLimits };

/** A fault that opened the output and waits to be cleared. */
export type Latched = {
  readonly fault: FaultName;
  readonly measured: number;
  readonly limit: number;
  readonly boxMs: number;
};

export type BoxState =
  | { readonly name: 'safe' }
  | { readonly name: 'armed'; readonly job: Job }
  | { readonly name: 'driving'; readonly job: Job }
  | { readonly name: 'tripped'; readonly latched: Latched };

export type BoxEvent =
  | { readonly name: 'armed'; readonly job: Job }
  | { readonly name: 'driven' }
  | { readonly name: 'opened' }
  | { readonly name: 'fault'; readonly latched: Latched }
  | { readonly name: 'cleared' };

const safe: BoxState = { name: 'safe' };
const tripped = (latched: Latched): BoxState => ({ name: 'tripped', latched });

/** The state after an event. An event that means nothing in a state leaves it as it is; a fault always trips. */
export function next(state: BoxState, event: BoxEvent): BoxState {
  switch (state.name) {
    case 'safe':
      return fromSafe(state, event);
    case 'armed':
      return fromArmed(state, event);
    case 'driving':
      return fromDriving(state, event);
    case 'tripped':
      return fromTripped(state, event);
  }
}

function fromSafe(state: BoxState, event: BoxEvent): BoxState {
  switch (event.name) {
    case 'armed':
      return { name: 'armed', job: event.job };
    case 'fault':
      return tripped(event.latched);
    case 'driven':
    case 'opened':
    case 'cleared':
      return state;
  }
}

function fromArmed(state: { readonly name: 'armed'; readonly job: Job }, event: BoxEvent): BoxState {
  switch (event.name) {
    case 'armed':
      return { name: 'armed', job: event.job };
    case 'driven':
      return { name: 'driving', job: state.job };
    case 'opened':
      return safe;
    case 'fault':
      return tripped(event.latched);
    case 'cleared':
      return state;
  }
}

function fromDriving(state: BoxState, event: BoxEvent): BoxState {
  switch (event.name) {
    case 'opened':
      return safe;
    case 'fault':
      return tripped(event.latched);
    case 'armed':
    case 'driven':
    case 'cleared':
      return state;
  }
}

function fromTripped(
  state: { readonly name: 'tripped'; readonly latched: Latched },
  event: BoxEvent,
): BoxState {
  switch (event.name) {
    case 'cleared':
      return safe;
    case 'fault':
      // A welded output is worse than whatever tripped before; any other later fault must not hide the first.
      return event.latched.fault === 'OUTPUT_WELDED' && state.latched.fault !== 'OUTPUT_WELDED'
        ? tripped(event.latched)
        : state;
    case 'armed':
    case 'driven':
    case 'opened':
      return state;
  }
}

/** The job of a state that has one. */
export const jobOf = (state: BoxState): Job | undefined =>
  state.name === 'armed' || state.name === 'driving' ? state.job : undefined;

export const wireState = (name: StateName): number => states[name];
