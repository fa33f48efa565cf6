import type { JobState } from '../../job/state/state';
import type { App } from '../app';
import type { JobConnection } from '../connection/job-connection';

export type StationProps = { readonly app: App; readonly job: JobConnection; readonly state: JobState };
