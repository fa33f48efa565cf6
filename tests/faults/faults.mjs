import { bench } from './list/bench.mjs';
import { core } from './list/core.mjs';
import { firmware } from './list/firmware.mjs';
import { link } from './list/link.mjs';
import { page } from './list/page.mjs';
import { server } from './list/server.mjs';
import { store } from './list/store.mjs';

/**
 * One deliberate one-line fault each: `from` stands once in `file`; one of `tests` must fail with `to` in its place. When the
 * code moves on its fault follows, or makes room for another; a fault without a consequence is none.
 */
export const faults = [...core, ...bench, ...server, ...store, ...link, ...firmware, ...page];
