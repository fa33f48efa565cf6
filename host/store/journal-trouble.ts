import type { Refused } from '../core/result';
import type { LockRefused } from './lock';

/** Nothing more is written until the job has been opened again. */
export type JournalTrouble =
  | LockRefused
  | Refused<
      | 'JOURNAL_CLOSED'
      | 'JOURNAL_GONE'
      | 'JOURNAL_REPLACED'
      | 'JOURNAL_CHANGED'
      | 'JOURNAL_HALF_WRITTEN'
      | 'JOURNAL_LINE_NEWER'
      | 'JOURNAL_NOT_WRITABLE'
    >;
