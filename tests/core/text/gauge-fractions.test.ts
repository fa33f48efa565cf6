import { describe, expect, it } from 'vitest';
import { gaugeTable } from '../../../host/core/text/gauge-table';

const readingsOf = (text: string) => {
  const table = gaugeTable(text, { unit: '%' });
  if (table.kind !== 'gauge-table') throw new Error(table.message);
  return { unit: table.unit, readings: table.rows.map(({ reading }) => reading) };
};

describe('a pasted table of a fuel gauge', () => {
  it('takes 0 and 1 beside quarters as empty and full, not as per cent', () => {
    expect(readingsOf('ohm\treading\n0.8\t0\n8.3\t1/4\n18.8\t1/2\n34.4\t3/4\n60.2\t1')).toEqual({
      unit: '%',
      readings: [0, 25, 50, 75, 100],
    });
  });

  it('reads the ends as the dial prints them', () => {
    const { readings } = readingsOf('ohm;reading\n0.8;E\n18.8;1/2\n60.2;F');
    expect(readings).toEqual([0, 50, 100]);
  });

  it('leaves per cent as they are where no quarter is written', () => {
    expect(readingsOf('ohm,reading\n0.8,0\n8.3,25\n60.2,100').readings).toEqual([0, 25, 100]);
  });
});
