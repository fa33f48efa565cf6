import type { HostInfo, PortListing, BoxChoice, WorldChange } from '../../job/host-wire';
import type { Findings } from '../../job/findings';
import type { Opening } from '../../job/gauge';
import type { JobListing, Refusal } from '../../job/wire';

type Answer<T> = { readonly kind: 'answer'; readonly body: T } | Refusal;

const isRefusal = (body: unknown): body is Refusal =>
  typeof body === 'object' && body !== null && 'kind' in body && body.kind === 'refused';

const HOST_GONE: Refusal = {
  kind: 'refused',
  code: 'HOST_GONE',
  message: 'The host does not answer. Look whether it still runs and whether this device is on its network.',
};

const isTrusted = <T>(body: unknown): body is T => typeof body === 'object' && body !== null;

/**
 * The page and its host are built together and the host checks everything it sends against the same schemas, so the
 * page trusts the shape of an answer and keeps the schema library out of its script.
 */
async function ask<T>(path: string, init?: RequestInit): Promise<Answer<T>> {
  try {
    const response = await fetch(path, init);
    const body: unknown = await response.json();
    if (isRefusal(body)) return body;
    return isTrusted<T>(body) ? { kind: 'answer', body } : HOST_GONE;
  } catch {
    return HOST_GONE;
  }
}

const post = (body: unknown): RequestInit => ({
  method: 'POST',
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify(body),
});

export const hostInfo = (): Promise<Answer<HostInfo>> => ask('/api/host');
export const jobListing = (): Promise<Answer<JobListing>> => ask('/api/jobs');
export const portListing = (): Promise<Answer<PortListing>> => ask('/api/ports');
export const openNewJob = (opening: Opening): Promise<Answer<{ readonly jobId: string }>> =>
  ask('/api/jobs', post(opening));
export const findingsOf = (jobId: string): Promise<Answer<Findings>> =>
  ask(`/api/jobs/${encodeURIComponent(jobId)}/findings`);
/** Changes the simulated world; a real bench refuses. */
export const changeWorld = (change: WorldChange): Promise<Answer<unknown>> => ask('/api/world', post(change));
export const chooseBox = (choice: BoxChoice): Promise<Answer<BoxChoice>> => ask('/api/box', post(choice));
