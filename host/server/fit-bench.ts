import type { Bench, OpenJob } from '../bench';
import { isRefused, type Refused } from '../core/result';
import type { BenchDoor, DeskDoor } from './bench-door';

/** Fits the bench to the door the server was built for. */
export function fitBench(bench: Bench): BenchDoor {
  return {
    listJobs: () => bench.jobs(),
    stopAll: (by) => bench.stopAll(by),
    createJob: async (opening, by) => opened(await bench.createJob(opening, by)),
    openJob: async (jobId) => opened(await bench.openJob(jobId)),
    close: () => bench.close(),
  };
}

const opened = (desk: OpenJob | Refused): { readonly kind: 'desk'; readonly desk: DeskDoor } | Refused =>
  'kind' in desk ? desk : { kind: 'desk', desk: fitDesk(desk) };

function fitDesk(desk: OpenJob): DeskDoor {
  return {
    jobId: desk.jobId,
    eventsAfter: (n) => desk.events.slice(n),
    live: () => desk.live,
    submit: async (command, by) => {
      const outcome = await desk.submit(command, by);
      if (isRefused(outcome)) return outcome;
      return { kind: 'accepted', upToN: outcome.events.at(-1)?.n ?? desk.state.lastN };
    },
    present: (screen) => desk.seen(screen),
    gone: (screen) => desk.gone(screen),
    subscribe: (listener) => desk.subscribe(listener),
  };
}
