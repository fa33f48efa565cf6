import { shortName } from '../../../catalogue';
import type { ModelLine } from '../../../core/catalogue/model-report';
import { refuse } from '../../../refusals';
import {
  counts,
  modelFinding,
  nearModel,
  curvesDisagreeing,
  ofModel,
  onePerSpecimen,
  searchable,
  type Catalogue,
  type ModelFinding,
} from '../../../store/catalogue';
import { boundHeading, notOneModelWords, simulatedLeftOut, usualSpreadWords } from '../../../words/catalogue';
import type { Report } from '../../command';
import { cardMeant, withCatalogue } from '../../input/catalogue-place';
import { refusedError } from '../../input-error';
import type { Arguments } from '../../options';
import type { ModelLineJson } from '../../output/answers/catalogue';
import { entryJson, entryTable } from '../../output/catalogue-text';
import { disagreeJson, disagreeText } from '../../output/two-curves-text';
import { significant, textTable } from '../../output/text-table';
import { nowIso, schemaOf, type Action } from './action';
import { isShown } from './look';

/** Shows a model, or says which cards belong to it. */
export const modelAction: Action = {
  name: 'model',
  usage: 'NAME [ID ...]',
  help: 'a model: its specimens, how far the next may differ; with cards: say that they are this model',
  words: { least: 1, most: 200 },
  run: ([name = '', ...typed], given, surroundings) =>
    withCatalogue(given, surroundings, (catalogue) => {
      const about = typed.map((each) => cardMeant(catalogue, each));
      const [also, at] = [given.text('also'), nowIso()];
      if (about.length > 0) catalogue.say([{ says: 'belongs-to-model', about, model: name, at }]);
      if (also !== undefined) catalogue.say([{ says: 'model-also-called', model: name, also, at }]);
      catalogue.workOut();
      return reportOf(catalogue, name, given);
    }),
};

function reportOf(catalogue: Catalogue, name: string, given: Arguments): Report {
  const entries = catalogue.entries();
  const all = ofModel(entries, name);
  const [first] = all;
  if (first === undefined)
    throw refusedError(refuse('MODEL_UNKNOWN', { name, near: nearModel(entries, name) }));
  const shown = all.filter((entry) => counts(entry) && isShown(entry, given));
  const counted = onePerSpecimen(shown);
  const disagree = curvesDisagreeing(shown);
  const hidden = all.filter((entry) => counts(entry) && !isShown(entry, given)).length;
  const report = modelFinding(counted, searchable(entries, given.flag('simulated')));
  const named = (hash: string): string => shortName(hash);
  const against = report?.found.against.map((each) => notOneModelWords(each, named)) ?? [];
  return {
    text: [
      `${first.model ?? name}: ${counted.length} ${counted.length === 1 ? 'specimen' : 'specimens'}`,
      ...(first.alsoCalled.length === 0 ? [] : [`also called ${first.alsoCalled.join(', ')}`]),
      '',
      ...entryTable(all),
      ...(report === undefined
        ? []
        : ['', ...linesText(report), usualSpreadWords(report.usual, report.kind)]),
      ...(against.length === 0 ? [] : ['', ...against]),
      ...disagreeText(disagree),
    ],
    json: {
      schema: schemaOf('model'),
      model: first.model ?? name,
      also_called: first.alsoCalled,
      specimens: all.map(entryJson),
      counted: counted.length,
      unit: report?.unit ?? null,
      usual_spread: report?.usual.tau ?? null,
      usual_spread_from_models: report?.usual.models ?? 0,
      marks: report?.found.lines.map(lineJson) ?? [],
      against: report?.found.against.map((each, i) => ({ ...each, message: against[i] ?? '' })) ?? [],
      disagree: disagreeJson(disagree),
      simulated_left_out: hidden,
    },
    warnings: hidden === 0 ? [] : [simulatedLeftOut(hidden)],
  };
}

function linesText({ found, unit, kind }: ModelFinding): string[] {
  const [argument, told] = kind === 'gauge' ? ['ohm', unit] : [unit, 'ohm'];
  const side = found.lines.find(({ bound }) => bound !== undefined)?.bound?.side;
  const range = (each: { readonly from: number; readonly to: number } | undefined): string =>
    each === undefined ? 'from 10 on' : `${significant(each.from, 3)} to ${significant(each.to, 3)}`;
  return textTable(
    [
      { title: 'mark', align: 'left' },
      { title: argument },
      { title: 'specimens' },
      { title: told === '' ? 'reads' : told },
      { title: '1 sd between them' },
      { title: 'the next, 95 %', align: 'left' },
      { title: 'all marks at once', align: 'left' },
      { title: '95 % of all, 95 % confidence', align: 'left' },
      ...(side === undefined ? [] : [{ title: boundHeading(side) }]),
    ],
    found.lines.map((line) => [
      line.label,
      significant(line.argument, 3),
      String(line.specimens),
      significant(line.middle, 3),
      significant(line.spread, 2),
      range(line.next),
      range(line.together),
      range(line.tolerance),
      ...(side === undefined
        ? []
        : [line.bound === undefined ? 'from 10 on' : significant(line.bound.reading, 3)]),
    ]),
  );
}

const lineJson = (line: ModelLine): ModelLineJson => ({
  label: line.label,
  at: line.argument,
  specimens: line.specimens,
  middle: line.middle,
  spread: line.spread,
  next_95: line.next,
  next_95_together: line.together,
  tolerance_95_95: line.tolerance ?? null,
  tolerance_95_95_one_sided: line.bound ?? null,
  cochran_q: line.misfit,
});
