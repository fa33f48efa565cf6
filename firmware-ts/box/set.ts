import type { Answer } from '../../protocol';
import type { Drive } from './drive';
import type { Parts } from './parts';
import type { Job } from './state';
import type { Task } from './task';
import { answered, asU32, refuse } from './wire';
import type { Reply } from './wire';

/** When nothing proves that the limiter may come out, the answer says so after this long and the box goes on trying. */
const PROVE_MS = 600;
/** One conversion after the answer. */
const SETTLE_MS = 20;

export type SetHooks = {
  readonly parts: Parts;
  readonly drive: Drive;
  readonly job: Job;
  /** Opens the output because the setting would be too much. */
  readonly giveUp: (nowMs: number) => void;
};

/** What the contacts make now, as the answer to `set`. */
function madeAnswer({ contacts, table }: Parts, nowMs: number): Answer<'set'> {
  const contactMask = contacts.commandedMask;
  return {
    contactMask,
    madeMilliohm: asU32(table.madeMilliohm(contactMask)),
    uncertaintyMilliohm: asU32(table.madeUncertaintyMilliohm(contactMask)),
    settleMs: SETTLE_MS,
    boxMs: nowMs >>> 0,
  };
}

/** Waits until a setting is made and answers what was really made. */
export class SetTask implements Task {
  readonly wantsCoils = true;
  readonly isGuarded = true;
  readonly #hooks: SetHooks;
  readonly #beganAtMs: number;

  constructor(hooks: SetHooks, nowMs: number) {
    this.#hooks = hooks;
    this.#beganAtMs = nowMs;
  }

  tick(nowMs: number, isFresh: boolean): Reply | undefined {
    const { drive, job, parts, giveUp } = this.#hooks;
    const outcome = drive.tick(nowMs, isFresh, job.limits);
    if (outcome === 'moving') return undefined;
    if (outcome === 'limited' && nowMs - this.#beganAtMs < PROVE_MS) return undefined;
    if (outcome === 'made' || outcome === 'limited') {
      return answered('set', madeAnswer(parts, nowMs));
    }
    giveUp(nowMs);
    return refuse(outcome.refusal, outcome.detail);
  }

  end(): void {
    // The contacts stay where they are: the channel decides what becomes of them.
  }
}
