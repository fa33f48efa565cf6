import type { JSX } from 'preact';

/** From a part of the catalogue back to finding others, and to the jobs. */
export const Ways = (): JSX.Element => (
  <span class="bar-end">
    <a class="bar-link" href="#/catalogue">
      Find
    </a>
    <a class="bar-link" href="#/">
      Jobs
    </a>
  </span>
);
