import type { EventOf } from '../schema/events';
import type { NeedleNoted, NeedleSeen, StepState, Sweep, SweepStatus, SweepStep } from './state';
import type { Step } from '../schema/sweep';

type DraftStep = Step & { state: StepState; readonly seen: NeedleSeen[]; noted?: NeedleNoted };

const pending = (step: Step): DraftStep => ({ ...step, state: { kind: 'pending' }, seen: [] });

const isRefinement = (step: Step): boolean => step.why === 'refine' || step.why === 'edge';

class SweepDraft {
  readonly steps: DraftStep[];
  readonly #stepIds: Set<string>;
  #told: Omit<Sweep, 'steps'>;
  /** No step before this one is pending; a step that was read or skipped never is again. */
  #firstPending = 0;

  constructor({ steps, ...told }: Sweep) {
    this.#told = told;
    this.steps = steps.map((step) => ({ ...step, seen: [...step.seen] }));
    this.#stepIds = new Set(steps.map((step) => step.stepId));
  }

  get status(): SweepStatus {
    return this.#told.status;
  }

  set status(status: SweepStatus) {
    this.#told = { ...this.#told, status };
  }

  /** Adds the steps that are new and answers them. */
  extend(event: EventOf<'sweep-extended'>): DraftStep[] {
    const added = event.steps.filter((step) => !this.#stepIds.has(step.stepId)).map(pending);
    // A refinement is one point of the curve, whether it is read on one leg or on both.
    const refined = new Set(added.filter(isRefinement).map((step) => JSON.stringify(step.aim))).size;
    this.#told = { ...this.#told, refinementsLeft: Math.max(0, this.#told.refinementsLeft - refined) };
    // A finished sweep is opened again by what is added to it, and waits for a person.
    if (this.status.kind === 'finished' && added.length > 0)
      this.status = { kind: 'paused', reason: 'a point is to be read again' };
    this.steps.splice(event.place === 'end' ? this.steps.length : this.#nextPlace(), 0, ...added);
    for (const step of added) this.#stepIds.add(step.stepId);
    return added;
  }

  /** What is left of the plan is not read. Adds the steps that are read instead and answers them. */
  shorten({ looksLike, steps }: EventOf<'sweep-shortened'>): DraftStep[] {
    for (const each of this.steps)
      if (each.state.kind === 'pending') each.state = { kind: 'skipped', reason: 'a short sweep' };
    const added = steps.filter((each) => !this.#stepIds.has(each.stepId)).map(pending);
    this.steps.push(...added);
    for (const each of added) this.#stepIds.add(each.stepId);
    this.#told = { ...this.#told, refinementsLeft: 0, short: { looksLike } };
    return added;
  }

  made(): Sweep {
    const steps: SweepStep[] = this.steps;
    return { ...this.#told, steps };
  }

  #nextPlace(): number {
    while (
      this.steps[this.#firstPending] !== undefined &&
      this.steps[this.#firstPending]?.state.kind !== 'pending'
    )
      this.#firstPending += 1;
    return this.#firstPending;
  }
}

const addTo = <Item>(places: Map<string, Item[]>, id: string, item: Item): void => {
  const known = places.get(id);
  if (known === undefined) places.set(id, [item]);
  else known.push(item);
};

/** The sweeps of a job while it is folded: each sweep and each step is found by its id at once. */
export class SweepsDraft {
  readonly #sweeps: SweepDraft[] = [];
  readonly #byId = new Map<string, SweepDraft[]>();
  readonly #stepsById = new Map<string, DraftStep[]>();
  readonly #running = new Set<SweepDraft>();

  constructor(sweeps: readonly Sweep[]) {
    for (const sweep of sweeps) this.#add(sweep);
  }

  list(): Sweep[] {
    return this.#sweeps.map((sweep) => sweep.made());
  }

  start(event: EventOf<'sweep-started'>): void {
    this.pauseRunning('another sweep was started');
    this.#add({
      sweepId: event.sweepId,
      mode: event.mode,
      startedAt: event.at,
      fromOhm: event.fromOhm,
      toOhm: event.toOhm,
      ...(event.originalLeastOhm === undefined ? {} : { originalLeastOhm: event.originalLeastOhm }),
      refinementsLeft: event.refinements,
      settleMs: event.settleMs,
      ...(event.state === undefined ? {} : { state: event.state }),
      ...(event.dashCelsius === undefined ? {} : { dashCelsius: event.dashCelsius }),
      ...(event.hand === undefined ? {} : { hand: event.hand }),
      ...(event.fromTable === undefined ? {} : { fromTable: event.fromTable }),
      steps: event.steps.map(pending),
      status: { kind: 'running' },
    });
  }

  extend(event: EventOf<'sweep-extended'>): void {
    for (const sweep of this.#byId.get(event.sweepId) ?? [])
      for (const step of sweep.extend(event)) addTo(this.#stepsById, step.stepId, step);
  }

  shorten(event: EventOf<'sweep-shortened'>): void {
    for (const sweep of this.#byId.get(event.sweepId) ?? [])
      for (const step of sweep.shorten(event)) addTo(this.#stepsById, step.stepId, step);
  }

  setStatus(sweepId: string, status: SweepStatus): void {
    for (const sweep of this.#byId.get(sweepId) ?? []) this.#set(sweep, status);
  }

  /** A finished sweep cannot be paused. */
  pause(sweepId: string, reason: string): void {
    for (const sweep of this.#byId.get(sweepId) ?? [])
      if (sweep.status.kind === 'running') this.#set(sweep, { kind: 'paused', reason });
  }

  /** Whatever opened the output by itself leaves every running sweep paused: nothing is driven until a person says so. */
  pauseRunning(reason: string): void {
    for (const sweep of [...this.#running]) this.#set(sweep, { kind: 'paused', reason });
  }

  setStep(stepId: string, state: StepState): void {
    for (const step of this.#stepsById.get(stepId) ?? []) step.state = state;
  }

  addSeen(stepId: string, seen: NeedleSeen): void {
    for (const step of this.#stepsById.get(stepId) ?? []) step.seen.push(seen);
  }

  note(noted: NeedleNoted): void {
    for (const step of this.#stepsById.get(noted.stepId) ?? []) step.noted = noted;
  }

  #set(sweep: SweepDraft, status: SweepStatus): void {
    sweep.status = status;
    if (status.kind === 'running') this.#running.add(sweep);
    else this.#running.delete(sweep);
  }

  #add(given: Sweep): void {
    const sweep = new SweepDraft(given);
    this.#sweeps.push(sweep);
    addTo(this.#byId, given.sweepId, sweep);
    for (const step of sweep.steps) addTo(this.#stepsById, step.stepId, step);
    if (given.status.kind === 'running') this.#running.add(sweep);
  }
}
