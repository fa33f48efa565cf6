import { describe, expect, it } from 'vitest';
import { meanAt, pooledTau, type Specimen } from '../../../host/core/catalogue/spread';
import { vaccineTrials } from '../../support/catalogue/published';

/**
 * Source: NIST Statistical Reference Datasets, analysis of variance, SiRstv: resistivity of silicon by five instruments
 * (Ehrstein and Croarkin). Read against the file of the collection, as SciPy 1.17 ships it.
 */
const SILICON = [
  [196.3052, 196.124, 196.189, 196.2569, 196.3403],
  [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
  [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
  [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
  [196.2119, 196.1051, 196.185, 196.0052, 196.209],
];
/** Source: the same collection, AtmWtAg: atomic weight of silver by two instruments (Powell, Murphy and Gramlich 1982), less 107.868, in 1e-7. Read against a copy of its file. */
const SILVER = [
  [1568, 1465, 1572, 1785, 1446, 1903, 1526, 1494, 1616, 1587, 1519, 1486],
  [1079, 1344, 1513, 1197, 1604, 1385, 1642, 1365, 1151, 1082, 1517, 1448],
].map((row, i) => [
  ...row,
  ...([
    [1419, 1569, 1508, 1672, 1385, 1518, 1662, 1424, 1360, 1333, 1610, 1477],
    [1198, 1482, 1334, 1609, 1101, 1512, 1469, 1360, 1254, 1261, 1450, 1368],
  ][i] ?? []),
]);

/** Source: the same collection, SmLs01 to SmLs09 (Simon and Lesage 1989): nine treatments, the same figures about a larger and larger offset. */
const treatments = (offset: number, replicates: number): number[][] => {
  const step = (index: number): number => (index === 0 ? 0.2 : index % 2 === 1 ? 0.1 : 0.3);
  return Array.from({ length: 9 }, (_, treatment) =>
    Array.from({ length: replicates }, (_, replicate) => offset + step(treatment) + step(replicate)),
  );
};

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, each) => sum + (each - values[0]!), 0) / values.length + values[0]!;

/** Groups as specimens whose own uncertainty is what their readings scatter by. Each has as many readings. */
function groupsOf(rows: readonly (readonly number[])[]): { groups: Specimen[]; within: number } {
  const count = rows[0]!.length;
  const squares = rows.flatMap((row) => row.map((each) => (each - meanOf(row)) ** 2));
  const within = squares.reduce((sum, each) => sum + each, 0) / (rows.length * (count - 1));
  return {
    within,
    groups: rows.map((row) => ({ value: meanOf(row), uncertainty: Math.sqrt(within / count) })),
  };
}

describe('one-way analysis of variance', () => {
  // Q of equal uncertainties is (groups - 1) F; and where F > 1, tau squared is (between - within) / replicates.
  it.each([
    ['SiRstv', SILICON, 1.18046237440255, 1.27865654e-2, 1.0831828e-2],
    ['AtmWtAg', SILVER, 15.946733567793, 3.638341875e-9 * 1e14, 2.28155932971014e-10 * 1e14],
    ['SmLs01', treatments(1, 21), 21, 0.21, 0.01],
    ['SmLs02', treatments(1, 201), 201, 2.01, 0.01],
    ['SmLs03', treatments(1, 2_001), 2_001, 20.01, 0.01],
    ['SmLs04', treatments(1_000_000, 21), 21, 0.21, 0.01],
    ['SmLs05', treatments(1_000_000, 201), 201, 2.01, 0.01],
    ['SmLs06', treatments(1_000_000, 2_001), 2_001, 20.01, 0.01],
  ])('%s: certified F, between and within', (_, rows, ...[f, between, within]) => {
    const found = groupsOf(rows);
    expect(found.within / within).toBeCloseTo(1, 6);
    const { misfit } = meanAt(found.groups, 0);
    expect(misfit / (rows.length - 1) / f).toBeCloseTo(1, 6);
    const tauSquared = (between - within) / rows[0]!.length;
    expect(pooledTau([found.groups]) ** 2 / tauSquared).toBeCloseTo(1, 4);
  });

  // A double has 16 figures, and 1e12 takes 13 of them: three are left of F.
  it.each([
    ['SmLs07', 21, 21],
    ['SmLs08', 201, 201],
    ['SmLs09', 2_001, 2_001],
  ])('%s: certified F, as far as 1e12 leaves figures', (_, replicates, f) => {
    const { groups } = groupsOf(treatments(1e12, replicates));
    expect(meanAt(groups, 0).misfit / 8 / f).toBeCloseTo(1, 2);
  });
});

describe('13 trials of a vaccine', () => {
  // Source: Viechtbauer, J. Stat. Softw. 36(3) (2010), and the reference manual of that package for the same data:
  // DerSimonian-Laird 0.3088, Paule-Mandel 0.3181, REML 0.3132 with Hartung-Knapp: s.e. 0.1807, -1.1082 to -0.3208.
  const degrees = vaccineTrials.length - 1;

  it('DerSimonian-Laird: tau squared 0.3088', () => {
    const { misfit } = meanAt(vaccineTrials, 0);
    const weights = vaccineTrials.map(({ uncertainty }) => 1 / uncertainty ** 2);
    const [sum, squares] = [
      weights.reduce((all, each) => all + each, 0),
      weights.reduce((all, each) => all + each ** 2, 0),
    ];
    expect((misfit - degrees) / (sum - squares / sum)).toBeCloseTo(0.3088, 3);
  });

  it('Paule-Mandel: Q is its degrees of freedom at tau squared 0.3181', () => {
    expect(meanAt(vaccineTrials, Math.sqrt(0.31805)).misfit).toBeGreaterThan(degrees);
    expect(meanAt(vaccineTrials, Math.sqrt(0.31825)).misfit).toBeLessThan(degrees);
  });

  it('Hartung-Knapp at REML: s.e. 0.1807, mean from -1.1082 to -0.3208', () => {
    const { mean, variance, misfit } = meanAt(vaccineTrials, pooledTau([vaccineTrials]));
    const error = Math.sqrt((variance * misfit) / degrees);
    expect(error).toBeCloseTo(0.1807, 3);
    // Student t of 12 degrees of freedom, 97.5 %: 2.1788 (any table).
    expect(mean - 2.1788 * error).toBeCloseTo(-1.1082, 2);
    expect(mean + 2.1788 * error).toBeCloseTo(-0.3208, 2);
  });
});
