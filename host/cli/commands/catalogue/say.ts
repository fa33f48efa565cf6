import { shortName } from '../../../catalogue';
import { refuse } from '../../../refusals';
import { curvesDisagreeing } from '../../../store/catalogue';
import { disagreeJson, disagreeText } from '../../output/two-curves-text';
import { cardMeant, withCatalogue } from '../../input/catalogue-place';
import { InputError, refusedError } from '../../input-error';
import { nowIso, schemaOf, type Action } from './action';

export const sameAction: Action = {
  name: 'same',
  usage: 'ID ID ...',
  help: 'say that cards are of one specimen',
  words: { least: 2, most: 50 },
  run: (words, given, surroundings) =>
    withCatalogue(given, surroundings, (catalogue) => {
      const about = [...new Set(words.map((typed) => cardMeant(catalogue, typed)))];
      if (about.length < 2) throw new InputError('these are one and the same card; name two');
      catalogue.say([{ says: 'same-specimen', about, at: nowIso() }]);
      catalogue.workOutForAnswer();
      const names = about.map(shortName);
      const disagree = curvesDisagreeing(catalogue.entries().filter(({ hash }) => about.includes(hash)));
      return {
        text: [`one specimen: ${names.join(', ')}`, ...disagreeText(disagree)],
        json: { schema: schemaOf('same'), cards: names, disagree: disagreeJson(disagree) },
      };
    }),
};

export const apartAction: Action = {
  name: 'apart',
  usage: 'ID ...',
  help: 'say that cards are of parts of their own after all',
  words: { least: 1, most: 50 },
  run: (words, given, surroundings) =>
    withCatalogue(given, surroundings, (catalogue) => {
      const about = [...new Set(words.map((typed) => cardMeant(catalogue, typed)))];
      catalogue.say([{ says: 'other-specimens', about, at: nowIso() }]);
      const names = about.map(shortName);
      return {
        text: [`each a part of its own: ${names.join(', ')}`],
        json: { schema: schemaOf('apart'), cards: names },
      };
    }),
};

export const withdrawAction: Action = {
  name: 'withdraw',
  usage: 'ID --because REASON',
  help: 'say that a card counts no more, and why; it stays to be seen',
  words: { least: 1, most: 1 },
  run: ([typed = ''], given, surroundings) =>
    withCatalogue(given, surroundings, (catalogue) => {
      const reason = given.text('because');
      if (reason === undefined) throw new InputError('--because is missing: say why the card counts no more');
      const hash = cardMeant(catalogue, typed);
      const by = given.text('replaced-by');
      const at = nowIso();
      catalogue.say([
        by === undefined
          ? { says: 'withdrawn', about: [hash], reason, at }
          : { says: 'supersedes', about: [hash], by: cardMeant(catalogue, by), reason, at },
      ]);
      const name = shortName(hash);
      return {
        text: [`${name} counts no more: ${reason}`],
        json: { schema: schemaOf('withdraw'), id: name, reason },
      };
    }),
};

export const eraseSlipAction: Action = {
  name: 'erase-slip',
  usage: 'ID',
  help: 'erase what is private about a card (owner, plate, price) for good; the card stays',
  words: { least: 1, most: 1 },
  run: ([typed = ''], given, surroundings) =>
    withCatalogue(given, surroundings, async (catalogue) => {
      const hash = cardMeant(catalogue, typed);
      const name = shortName(hash);
      if (!(await catalogue.slips.erase(hash))) throw refusedError(refuse('CARD_HAS_NO_SLIP', { name }));
      return {
        text: [`the slip of ${name} is erased in this file; copies of the file (backups) still have it`],
        json: { schema: schemaOf('erase-slip'), id: name, erased: true },
      };
    }),
};
