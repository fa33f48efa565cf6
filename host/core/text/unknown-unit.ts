import { unitNames, unitFromText, type Family } from '../units';

const WORDS: Readonly<Record<string, readonly Family[]>> = {
  temperature: ['temperature'],
  temp: ['temperature'],
  pressure: ['pressure'],
  level: ['part', 'volume'],
  resistance: ['resistance'],
};

/** Says of a heading such as `pressure_MPa` that its unit is not known, and which are; empty where no heading is one. */
export function unknownUnitHint(titles: readonly string[]): string {
  for (const title of titles) {
    const [, word = '', unit = ''] = /^\s*(\p{L}+)[\s_([]+([^\s_)\]]+)[)\]]?\s*$/u.exec(title) ?? [];
    const families = WORDS[word.toLowerCase()];
    if (families === undefined || unitFromText(unit) !== undefined) continue;
    return `; the unit ${unit} of "${title}" is not known here: ${unitNames(...families).join(', ')} are`;
  }
  return '';
}
