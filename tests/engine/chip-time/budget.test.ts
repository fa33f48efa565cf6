import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { engineState } from '../xsnap-install';
import { budgets } from './budgets';
import { figuresOf, gauges, works } from './figures';
import { ChipFirmware } from './firmware';

describe.skipIf(engineState().kind === 'absent')(
  'what the firmware costs on the chip, with a full ripple window',
  () => {
    let firmware: ChipFirmware;
    beforeAll(async () => {
      firmware = await ChipFirmware.load();
    });
    afterAll(() => firmware.quit());

    describe.each(gauges)('%s', (gauge) => {
      it.each(works.map((work) => [work[0], work] as const))('keeps its budgets: %s', (_what, work) => {
        const figures = figuresOf(firmware, work, gauge);
        for (const [name, budget] of budgets) expect(figures[name], name).toBeLessThanOrEqual(budget);
      });
    });
  },
);
