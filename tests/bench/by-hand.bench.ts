import { expect, it } from 'vitest';
import { handCoverage } from '../support/hand-coverage';
import { mechanisms } from '../support/random-gauge';
import { addRow } from './table';

/** Three marks of one gauge are off together: of 40 gauges the share scatters by four in a hundred, of 100 by two and a half. */
const GAUGES = 100;

const percent = ({ held, all }: { readonly held: number; readonly all: number }): string =>
  ((100 * held) / all).toFixed(1);

it('covers the truth with what a hand and an ohmmeter do to it', () => {
  for (const how of ['resistors', 'potentiometer'] as const) {
    const runs = mechanisms.map((mechanism, i) => handCoverage(mechanism, how, GAUGES, 500_000 + 10_000 * i));
    const list = (of: 'marks' | 'readings'): string => runs.map((run) => percent(run[of])).join(' / ');
    addRow({
      part: 'by hand',
      what: `95 % intervals with ${how}, ${GAUGES} gauges each of ${mechanisms.join('/')}: ohms at the inner marks; readings over the range`,
      measured: `${list('marks')}; ${list('readings')} %`,
      goal: '93 to 98 %',
    });
    for (const { marks } of runs) expect(marks.held / marks.all).toBeGreaterThan(0.88);
  }
});
