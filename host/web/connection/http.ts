import type {
  BoxChoice,
  DeviceListing,
  DeviceOrder,
  Greeting,
  HostInfo,
  PairingOrder,
  PairingView,
  PortListing,
  Right,
  WorldChange,
} from '../../job/wire/host-messages';
import type {
  FoundInCatalogue,
  JobInCatalogue,
  PartInCatalogue,
  SaidOfCard,
  SendersForGauge,
  TableGiven,
  TablesInCatalogue,
} from '../../job/wire/catalogue-messages';
import type { ClusterOpeningAsked } from '../../job/schema/cluster-commands';
import type { BatchTable, ClusterSheet } from '../../job/wire/cluster-messages';
import type { Findings } from '../../job/findings';
import type { PhotographSubject } from '../../job/schema/photograph-subjects';
import type { Opening } from '../../job/schema/gauge';
import type { JobMessage, JobListing, Refusal } from '../../job/wire/job-messages';

export type Answer<T> = { readonly kind: 'answer'; readonly body: T } | Refusal;

const isRefusal = (body: unknown): body is Refusal =>
  typeof body === 'object' && body !== null && 'kind' in body && body.kind === 'refused';

const HOST_GONE: Refusal = {
  kind: 'refused',
  code: 'HOST_GONE',
  message: 'The host does not answer. Look whether it still runs and whether this device is on its network.',
};

/** The host gives a reckoning 60 s; everything else is answered within a few. */
const REQUEST_MS = 15_000;
const RECKONING_MS = 75_000;

const isTrusted = <T>(body: unknown): body is T => typeof body === 'object' && body !== null;

/**
 * The page and its host are built together and the host checks everything it sends against the same schemas, so the
 * page trusts the shape of an answer and keeps the schema library out of its script.
 */
async function ask<T>(path: string, init?: RequestInit, withinMs = REQUEST_MS): Promise<Answer<T>> {
  try {
    const response = await fetch(path, { signal: AbortSignal.timeout(withinMs), ...init });
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
export const batchTable = (): Promise<Answer<BatchTable>> => ask('/api/clusters', undefined, RECKONING_MS);
export const openNewCluster = (
  opening: ClusterOpeningAsked,
): Promise<Answer<{ readonly clusterId: string }>> => ask('/api/clusters', post(opening));
const onCluster = (clusterId: string, deed: string): string =>
  `/api/clusters/${encodeURIComponent(clusterId)}/${deed}`;
export const clusterSheet = (clusterId: string): Promise<Answer<ClusterSheet>> =>
  ask(onCluster(clusterId, 'sheet'), undefined, RECKONING_MS);
export const clusterAgain = (
  clusterId: string,
  vehicle: string,
): Promise<Answer<{ readonly clusterId: string }>> =>
  ask(onCluster(clusterId, 'again'), post(vehicle === '' ? {} : { vehicle }));
const onJob = (jobId: string, deed: string): string => `/api/jobs/${encodeURIComponent(jobId)}/${deed}`;
/** Says which of several boxes is on a job's gauge. */
export const assignBox = (jobId: string, boxSerial: number): Promise<Answer<unknown>> =>
  ask(onJob(jobId, 'box'), post({ boxSerial }));
export const archiveJob = (jobId: string, archived: boolean): Promise<Answer<unknown>> =>
  ask(onJob(jobId, 'archive'), post({ archived }));
export const deleteJob = (jobId: string): Promise<Answer<{ readonly name: string }>> =>
  ask(onJob(jobId, 'delete'), post({}));
export const duplicateJob = (jobId: string): Promise<Answer<{ readonly jobId: string }>> =>
  ask(onJob(jobId, 'duplicate'), post({}));
export const restoreJob = (name: string): Promise<Answer<{ readonly jobId: string }>> =>
  ask(`/api/deleted/${encodeURIComponent(name)}/restore`, post({}));
export const openExample = (): Promise<Answer<{ readonly jobId: string }>> => ask('/api/example', post({}));
export const findingsOf = (jobId: string): Promise<Answer<Findings>> =>
  ask(`/api/jobs/${encodeURIComponent(jobId)}/findings`, undefined, RECKONING_MS);
/** The sheets of the record, each an SVG document; the host searches the trim anew for them. */
export const recordSheets = (jobId: string): Promise<Answer<{ readonly sheets: readonly string[] }>> =>
  ask(onJob(jobId, 'record'), undefined, RECKONING_MS);
export const photographAddress = (jobId: string, photographId: string): string =>
  onJob(jobId, `photographs/${encodeURIComponent(photographId)}`);
/** The picture is the body itself. */
export const addPhotograph = (
  jobId: string,
  of: PhotographSubject,
  picture: Blob,
): Promise<Answer<{ readonly upToN: number }>> =>
  ask(
    onJob(jobId, `photographs?of=${of}`),
    { method: 'POST', headers: { 'content-type': picture.type }, body: picture },
    RECKONING_MS,
  );
export const recordFileAddress = (jobId: string, form: 'a4' | 'letter' | 'label'): string =>
  onJob(jobId, `record/${form}`);
export const clusterFileAddress = (clusterId: string, paper: 'a4' | 'letter'): string =>
  `/api/clusters/${encodeURIComponent(clusterId)}/sheet/${paper}`;
const ofCatalogue = (jobId: string): string => `/api/jobs/${encodeURIComponent(jobId)}/catalogue`;
/** What the catalogue has of a job. It may have to fit cards first. */
export const jobInCatalogue = (jobId: string): Promise<Answer<JobInCatalogue>> =>
  ask(ofCatalogue(jobId), undefined, RECKONING_MS);
export const keepInCatalogue = (jobId: string, model: string): Promise<Answer<JobInCatalogue>> =>
  ask(ofCatalogue(jobId), post(model === '' ? {} : { model }), RECKONING_MS);
/** `question`: a `CatalogueAsk` as JSON. */
export const findInCatalogue = (question: string): Promise<Answer<FoundInCatalogue>> =>
  ask(`/api/catalogue/find?ask=${encodeURIComponent(question)}`, undefined, RECKONING_MS);
/** What curves tables hold; with `keep`, after these were kept. */
export const tablesInCatalogue = (
  tables: readonly TableGiven[],
  keep?: { readonly model?: string },
): Promise<Answer<TablesInCatalogue>> =>
  ask('/api/catalogue/tables', post({ tables, ...(keep === undefined ? {} : { keep }) }), RECKONING_MS);
/** A catalogue to try things with. */
export const takeDemoCatalogue = (): Promise<Answer<FoundInCatalogue>> =>
  ask('/api/catalogue/demo', post({}), RECKONING_MS);
type PartOf = { readonly kind: 'model' | 'card'; readonly name: string };
const partAddress = ({ kind, name }: PartOf, deed: string, withSimulated: boolean): string =>
  `/api/catalogue/${kind}/${encodeURIComponent(name)}${deed}${withSimulated ? '?simulated=true' : ''}`;
export const removeDemoCatalogue = (): Promise<Answer<FoundInCatalogue>> =>
  ask('/api/catalogue/demo', post({ remove: true }), RECKONING_MS);
export const partInCatalogue = (part: PartOf, withSimulated: boolean): Promise<Answer<PartInCatalogue>> =>
  ask(partAddress(part, '', withSimulated), undefined, RECKONING_MS);
/** The same after something was said about one of its cards. */
export const sayOfCard = (
  part: PartOf,
  withSimulated: boolean,
  said: SaidOfCard,
): Promise<Answer<PartInCatalogue>> => ask(partAddress(part, '', withSimulated), post(said), RECKONING_MS);
/** Which senders suit a gauge; resistors are searched for each. */
export const sendersForPart = (part: PartOf, withSimulated: boolean): Promise<Answer<SendersForGauge>> =>
  ask(partAddress(part, '/senders', withSimulated), undefined, RECKONING_MS);
export const sendersForJob = (jobId: string): Promise<Answer<SendersForGauge>> =>
  ask(`${ofCatalogue(jobId)}/senders`, undefined, RECKONING_MS);
/** Changes the simulated world; a real bench refuses. */
export const changeWorld = (change: WorldChange): Promise<Answer<unknown>> => ask('/api/world', post(change));
export const chooseBox = (choice: BoxChoice): Promise<Answer<BoxChoice>> => ask('/api/box', post(choice));

export const greet = (): Promise<Answer<Greeting>> => ask('/api/greeting');
export type PairKey = { readonly code: string } | { readonly token: string };
export const askToPair = (
  key: PairKey & { readonly name: string },
): Promise<Answer<{ readonly device: string; readonly right: Right }>> => ask('/api/pair', post(key));
export const pairingNow = (): Promise<Answer<PairingView>> => ask('/api/pairing');
export const orderPairing = (order: PairingOrder): Promise<Answer<PairingView>> =>
  ask('/api/pairing', post(order));
export const deviceListing = (): Promise<Answer<DeviceListing>> => ask('/api/devices');
export const orderDevice = (id: string, order: DeviceOrder): Promise<Answer<DeviceListing>> =>
  ask(`/api/devices/${encodeURIComponent(id)}`, post(order));

export type StopOutcome = Extract<JobMessage, { kind: 'stopped' }>['outcome'];
export type BoxesStopped = Extract<JobMessage, { kind: 'stopped' }>['boxes'];
type Stopped = { readonly outcome: StopOutcome; readonly boxes?: BoxesStopped };

let stopToken: string | undefined;

/** Kept from the page's load on: STOP needs nothing else. */
export function keepStopToken(token: string): void {
  stopToken = token;
}

const stopWith = (token: string): Promise<Answer<Stopped>> =>
  ask('/api/stop', { ...post({ token }), keepalive: true });

/** STOP by its own way, beside the socket: opens every box of this host. A host that was started again is asked anew. */
export async function stopByPost(): Promise<Answer<Stopped>> {
  const first = stopToken === undefined ? undefined : await stopWith(stopToken);
  if (first !== undefined && !(first.kind === 'refused' && first.code === 'STOP_TOKEN')) return first;
  const greeting = await greet();
  if (greeting.kind === 'refused') return greeting;
  keepStopToken(greeting.body.stopToken);
  return stopWith(greeting.body.stopToken);
}
