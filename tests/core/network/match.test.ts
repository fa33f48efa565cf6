import { describe, expect, it } from 'vitest';
import { matchSenders, trim } from '../../../host/core/network';
import { thermalTemperature, thermistor } from './curves';

const senders = [thermistor(5000, 3000), thermistor(700, 3900), thermistor(620, 3900), thermistor(760, 3800)];
const options = { from: 45, to: 115, samples: 31, maxParts: 2 } as const;

const matched = (list: Parameters<typeof matchSenders>[1]) => {
  const answer = matchSenders(thermalTemperature, list, options);
  if (answer.kind === 'refused') throw new Error(answer.code);
  return answer;
};

describe('matching senders to a gauge', () => {
  it('finds for each sender what trim finds for it', () => {
    for (const match of matched(senders).matches) {
      const single = trim(thermalTemperature, senders[match.sender]!, { ...options, acceptableError: 1000 });
      if (single.kind === 'refused') throw new Error(single.code);
      expect(match.withNetwork).toBeCloseTo(single.candidates[0]!.worstWeightedError, 9);
      expect(match.network.parts.map((part) => part.resistanceOhm)).toEqual(
        single.candidates[0]!.parts.map((part) => part.resistanceOhm),
      );
    }
  });

  it('says of a network the error that trim says of the same one, where neither was told how finely to look', () => {
    const asked = { from: 45, to: 115, maxParts: 2 } as const;
    const found = matchSenders(thermalTemperature, senders, asked);
    if (found.kind === 'refused') throw new Error(found.code);
    const compared = found.matches.flatMap(({ sender, network, withNetwork }) => {
      const single = trim(thermalTemperature, senders[sender]!, { ...asked, acceptableError: 1000 });
      if (single.kind === 'refused') throw new Error(single.code);
      const ohms = network.parts.map(({ resistanceOhm }) => resistanceOhm);
      return single.candidates
        .filter(
          ({ topology, parts }) =>
            topology === network.topology &&
            parts.every(({ resistanceOhm }, index) => resistanceOhm === ohms[index]),
        )
        .map(({ worstWeightedError }) => [withNetwork, worstWeightedError] as const);
    });
    expect(compared.length).toBeGreaterThan(1);
    for (const [one, other] of compared) expect(one).toBeCloseTo(other, 9);
  });

  it('puts the best first, those that keep the safety rule before those that do not', () => {
    const { matches } = matched(senders);
    expect(matches).toHaveLength(senders.length);
    matches.slice(1).forEach((match, index) => {
      const before = matches[index]!;
      if (before.keepsRule === match.keepsRule)
        expect(match.withNetwork).toBeGreaterThanOrEqual(before.withNetwork);
      else expect(before.keepsRule).toBe(true);
    });
  });

  it('never makes a sender worse by a network where the rule is kept without one', () => {
    for (const match of matched(senders).matches)
      if (match.keepsRule && match.network.topology === 'none')
        expect(match.withNetwork).toBeCloseTo(match.withoutNetwork, 12);
  });

  it('tells which senders cannot be compared, and why', () => {
    const { matches, unusable } = matched([senders[1]!, { ...senders[1]!, unit: 'kPa' }]);
    expect(matches).toHaveLength(1);
    expect(unusable).toMatchObject([{ sender: 1, reason: { code: 'UNIT' } }]);
  });

  it('ranks the same whatever the order of the senders', () => {
    const backward = matched([...senders].reverse()).matches.map(
      (match) => senders.length - 1 - match.sender,
    );
    expect(backward).toEqual(matched(senders).matches.map((match) => match.sender));
  });

  it('is refused for a gauge without a range', () => {
    expect(matchSenders({ ...thermalTemperature, measuredToOhm: 1 }, senders)).toMatchObject({
      code: 'GAUGE_RANGE',
    });
  });
});
