import { shortName } from '../../catalogue';
import { senderUnitFor } from '../../core/catalogue/columns';
import { ohmFromCompressed } from '../../core/identify/compressed-ohm';
import { findModels, searchable, type FindTask, type FoundModels } from '../../store/catalogue';
import { verdictWords } from '../../words/catalogue';
import type { Report, Surroundings } from '../command';
import { withCatalogue } from '../input/catalogue-place';
import { isSenderInput } from '../input/curve-kind';
import { readGaugeInput } from '../input/gauge-file';
import { refusedError } from '../input-error';
import { readInput } from '../input/input-file';
import { readSenderInput } from '../input/sender-file';
import type { Arguments } from '../options';
import { significant, textTable } from '../output/text-table';

/** Which model of the catalogue the points of a file belong to. */
export async function identifyInCatalogue(
  path: string,
  given: Arguments,
  surroundings: Surroundings,
): Promise<Report> {
  const asked = await taskFrom(path, given, surroundings);
  return withCatalogue(given, surroundings, (catalogue) => {
    catalogue.workOutForAnswer();
    const found = findModels(searchable(catalogue.entries(), given.flag('simulated')), asked);
    if ('code' in found) throw refusedError(found);
    return reportOf(found, asked);
  });
}

async function taskFrom(path: string, given: Arguments, surroundings: Surroundings): Promise<FindTask> {
  if (isSenderInput(await readInput(path, surroundings))) {
    const { points, unit } = await readSenderInput(path, surroundings);
    return { kind: 'sender', unit, points, leastOhm: given.number('least-ohm') ?? 0 };
  }
  const { readings, unit } = await readGaugeInput(path, surroundings);
  return {
    ...{ kind: 'gauge', unit },
    points: readings.map((one) => ({
      ...{ resistanceOhm: one.resistanceOhm, value: one.reading, valueUncertainty: one.readingUncertainty },
    })),
    leastOhm: given.number('least-ohm') ?? Math.min(...readings.map(({ resistanceOhm }) => resistanceOhm)),
  };
}

function reportOf(found: FoundModels, asked: FindTask): Report {
  const { identification, named, waiting } = found;
  const { ranking, noneShare, nonePrior, verdict, next } = identification;
  const nameOf = (id: string): string => {
    const candidate = named.get(id);
    return candidate?.model ?? shortName(candidate?.cards[0] ?? id);
  };
  const expected = (next?.expected ?? []).map(({ id, value }) => ({
    name: nameOf(id),
    value: told(found, asked, id, value),
  }));
  const rows = ranking.map(({ ids, share }) => ({
    names: ids.map(nameOf),
    cards: ids.flatMap((id) => named.get(id)?.cards.map(shortName) ?? []),
    share,
  }));
  const nextUnit = asked.kind === 'gauge' ? 'ohm' : (senderUnitFor(asked.unit) ?? asked.unit);
  return {
    text: [
      verdictWords(verdict, rows[0]?.names ?? []),
      '',
      ...textTable(
        [{ title: 'model or card', align: 'left' }, { title: 'share %' }, { title: 'cards' }],
        [
          ...rows.map(({ names, share, cards }) => [
            names.join(' or '),
            percent(share),
            String(cards.length),
          ]),
          ['none of these', percent(noneShare), ''],
        ],
      ),
      ...(next === undefined
        ? []
        : [
            '',
            `measure next at ${significant(next.argument, 3)} ${nextUnit}: ${expected
              .map(({ name, value }) => `${name} expects ${significant(value, 3)}`)
              .join(', ')}`,
          ]),
    ],
    json: {
      schema: 'needlewright/identify/1',
      kind: 'identification',
      of: asked.kind,
      verdict,
      ranking: rows.map(({ names, share, cards }) => ({ names, probability: share, cards })),
      none: { probability: noneShare, prior: nonePrior },
      next: next === undefined ? null : { at: next.argument, unit: nextUnit, bits: next.bits, expected },
      not_worked_out: waiting,
    },
    warnings: waiting === 0 ? [] : [`${waiting} cards are not yet worked out; "catalogue rebuild" does it`],
  };
}

const percent = (share: number): string => (100 * share).toFixed(1);

/** What a model expects, as it is read: on its own dial, or in ohms. */
function told({ bank }: FoundModels, { kind }: FindTask, id: string, value: number): number {
  if (kind === 'sender') return ohmFromCompressed(value);
  const arc = bank.arcs[bank.arcAt[bank.ids.indexOf(id)] ?? 0];
  return arc?.reading(value) ?? value;
}
