export * from './journal-text';
export * from './journal';
export { LOCK_FILE, lockJob, type Lock, type LockRefused } from './lock';
export * from './job-folders';
