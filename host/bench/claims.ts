import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import { absentLink, type BoxLink, type LinkEvent } from '../link';
import { Berths, worstOf, type Berth, type BoxStopped } from './berths';
import { Box } from './box/box';
import type { OpenJob, StopOutcome } from './open-job';

export type StopReport = { readonly outcome: StopOutcome; readonly boxes: readonly BoxStopped[] };

type Place = { readonly box: Box; berth: Berth<OpenJob> | undefined };

/** Which open job has which box. One job at a time claims a box; one box at a time is a job's. */
export class Claims {
  readonly #berths: Berths<OpenJob>;
  /** Serial number of the box on a job's gauge, by job. */
  readonly #assigned = new Map<string, number>();
  readonly #places = new Map<OpenJob, Place>();
  /** A cluster has every box for itself at this moment. */
  #holder: { readonly title: string; readonly jobIds: readonly string[] } | undefined;

  constructor(links: readonly BoxLink[]) {
    this.#berths = new Berths(links, (berth, event) => this.#heard(berth, event));
  }

  get berths(): Berths<OpenJob> {
    return this.#berths;
  }

  /** A box for a job that is being opened; `enter` it with its desk. */
  placeFor(jobId: string): Place {
    const found = this.#find(jobId);
    const berth = 'link' in found ? found : undefined;
    const box = new Box(absentLink(), this.#berths.ladders);
    box.moveTo('link' in found ? found.box : found);
    return { box, berth };
  }

  enter(desk: OpenJob, place: Place): void {
    this.#places.set(desk, place);
    this.#acquaint(desk, place);
  }

  leave(desk: OpenJob): void {
    for (const berth of this.#berths.all) if (berth.driver === desk) berth.driver = undefined;
    this.#places.delete(desk);
  }

  /** Says which box is on this job's gauge, where there are several. Refuses BOX_GIVEN_AWAY, JOB_AT_WORK. */
  assign(jobId: string, boxSerial: number | undefined): 'assigned' | Refused {
    const desk = [...this.#places.keys()].find((each) => each.jobId === jobId);
    if (desk?.isDriving === true) return refuse('JOB_AT_WORK', { title: desk.state.title });
    const other = [...this.#assigned].find(([id, serial]) => id !== jobId && serial === boxSerial);
    if (other !== undefined && boxSerial !== undefined) {
      const open = [...this.#places.keys()].find((each) => each.jobId === other[0]);
      return refuse('BOX_GIVEN_AWAY', { serial: boxSerial, title: open?.state.title ?? other[0] });
    }
    if (boxSerial === undefined) this.#assigned.delete(jobId);
    else this.#assigned.set(jobId, boxSerial);
    if (desk !== undefined) this.#settle(desk);
    return 'assigned';
  }

  /** The boxes that a job may be given, where there are several and none was said; a berth is a place, counted from 1. */
  choicesFor(jobId: string): { boxSerial: number; berth: number }[] | undefined {
    const { plugged, all } = this.#berths;
    if (plugged.length < 2 || this.#assigned.has(jobId)) return undefined;
    const given = new Set(this.#assigned.values());
    return plugged.flatMap((berth) => {
      const boxSerial = this.#berths.serialOf(berth);
      if (boxSerial === undefined || given.has(boxSerial)) return [];
      return [{ boxSerial, berth: all.indexOf(berth) + 1 }];
    });
  }

  /** Leaves every box to these jobs until the returned function is called. Refuses BOX_BUSY. */
  hold(title: string, jobIds: readonly string[]): (() => void) | Refused {
    const other = [...this.#places.keys()].find((desk) => desk.isDriving && !jobIds.includes(desk.jobId));
    const busy = this.#holder?.title ?? other?.state.title;
    if (busy !== undefined) return refuse('BOX_BUSY', { title: busy });
    for (const { driver } of this.#berths.all)
      if (driver?.isDriving === false) driver.restBox('a cluster uses the box');
    const holder = { title, jobIds };
    this.#holder = holder;
    return () => {
      if (this.#holder === holder) this.#holder = undefined;
    };
  }

  /** Refuses while another job drives this box, and takes it from whoever only measures. */
  claim(desk: OpenJob): Refused | undefined {
    const holder = this.#holder;
    if (holder !== undefined && !holder.jobIds.includes(desk.jobId))
      return refuse('BOX_BUSY', { title: holder.title });
    const berth = this.#settle(desk);
    if (!('link' in berth)) return berth;
    const { driver } = berth;
    if (driver !== undefined && driver !== desk && driver.isDriving) {
      return refuse('BOX_BUSY', { title: driver.state.title });
    }
    if (driver !== desk) driver?.restBox('another job uses the box');
    berth.driver = desk;
    return undefined;
  }

  /** Opens every box at once; what each answered, none waiting for another. */
  async stopBoxes(by: string): Promise<StopReport> {
    const isOne = this.#berths.plugged.length <= 1;
    const boxes = await Promise.all(
      this.#berths.all.map(async (berth): Promise<readonly BoxStopped[]> => {
        const boxSerial = this.#berths.serialOf(berth);
        const isPlugged = berth.link.state !== 'closed';
        const outcome = await this.#stopAt(berth, by);
        if (!isPlugged && outcome === 'no-box') return [];
        // One of several that does not answer at all is the silent one.
        const told = outcome === 'no-box' && !isOne ? 'box-silent' : outcome;
        return [{ ...(boxSerial === undefined ? {} : { boxSerial }), outcome: told }];
      }),
    );
    return { outcome: worstOf(boxes.flat()), boxes: boxes.flat() };
  }

  end(): void {
    this.#berths.end();
    this.#places.clear();
  }

  #heard(berth: Berth<OpenJob>, event: LinkEvent): void {
    // Nothing is driven before somebody asks anew, so whatever a box still holds when it comes back is from before.
    if (event.kind === 'state' && event.state === 'live') void berth.box.open();
    for (const [desk, place] of this.#places) {
      if (place.berth !== berth) continue;
      place.box.heard(event);
      desk.heard(event, desk === berth.driver);
    }
    if (event.kind === 'state') for (const desk of this.#places.keys()) this.#settle(desk);
  }

  #find(jobId: string): Berth<OpenJob> | Refused {
    const serial = this.#assigned.get(jobId);
    return serial === undefined ? this.#berths.theOnly() : this.#berths.ofSerial(serial);
  }

  /** Leads a job to its box, wherever that is plugged in by now; while it may drive it stays where it is. */
  #settle(desk: OpenJob): Berth<OpenJob> | Refused {
    const place = this.#places.get(desk);
    if (place === undefined) return refuse('HOST_ENDING');
    if (desk.isDriving && place.berth !== undefined) return place.berth;
    const found = this.#find(desk.jobId);
    const berth = 'link' in found ? found : undefined;
    if (place.berth === berth && berth !== undefined) return found;
    if (place.berth?.driver === desk) place.berth.driver = undefined;
    place.berth = berth;
    place.box.moveTo('link' in found ? found.box : found);
    this.#acquaint(desk, place);
    return found;
  }

  /** Whatever the job knew of an output was another box's; what this one said last holds from now on. */
  #acquaint(desk: OpenJob, { box }: Place): void {
    desk.heard({ kind: 'state', state: box.link.state }, false);
    const { lastHeartbeat } = box;
    if (lastHeartbeat !== undefined) desk.heard(lastHeartbeat, false);
  }

  async #stopAt(berth: Berth<OpenJob>, by: string): Promise<StopOutcome> {
    const desks = [...this.#places].filter(
      ([desk, place]) => desk === berth.driver || (desk.isDriving && place.berth === berth),
    );
    const outcomes = await Promise.all(desks.map(([desk]) => desk.stop(by)));
    const [first] = outcomes;
    if (first !== undefined) return outcomes.find((outcome) => outcome !== 'box-confirmed-open') ?? first;
    if (!berth.box.isLive) return 'no-box';
    return (await berth.box.open()) === 'open' ? 'box-confirmed-open' : 'box-silent';
  }
}
