export * from './journal-text';
export { journalLine } from './journal-line';
export { inSlices } from './in-slices';
export { JOURNAL_FILE, readJournal } from './read-journal';
export {
  openJournal,
  type Appended,
  type AppendRefused,
  type Journal,
  type JournalRefused,
  type Reopened,
} from './journal';
export type { JournalTrouble } from './journal-trouble';
export { lockJob, type Lock, type LockRefused } from './lock';
export * from './job-folders';
export { exampleJob } from './example-job';
export { archiveJob, deleteJob, restoreJob, type ShelfRefused } from './job-shelf';
export { jobsPlace, type JobsPlace } from './jobs-place';
export { JobList } from './list-jobs';
export {
  createCluster,
  listClusters,
  openCluster,
  type ClusterJournal,
  type ClusterOpening,
} from './cluster-journal';
