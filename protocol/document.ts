import { bytesOfTable } from './field';
import type { FieldTable } from './field';
import { faults } from './faults';
import { limits } from './limits';
import { events, messages, refused } from './messages';
import { refusals } from './refusals';

const hex = (value: number): string => `0x${value.toString(16).padStart(2, '0')}`;

function fieldRows(table: FieldTable): string[] {
  return Object.entries(table).map(
    ([name, { wire, min, max, meaning, absent }]) =>
      `| \`${name}\` | ${wire} | ${min} .. ${max} | ${meaning}${absent === undefined ? '' : `; appended, ${absent} when missing`} |`,
  );
}

function fieldTable(title: string, table: FieldTable): string[] {
  const rows = fieldRows(table);
  const head = [`${title}, ${bytesOfTable(table)} bytes:`, ''];
  return [...head, '| field | type | range | meaning |', '|---|---|---|---|', ...rows, ''];
}

/** The message tables of the wire specification, as Markdown lines. */
export function documentMessages(): string[] {
  const lines: string[] = [];
  for (const [name, { number, purpose, request, answer }] of Object.entries(messages)) {
    lines.push(`### ${name} (${hex(number)}, answer ${hex(number | 0x80)})`, '', `${purpose}.`, '');
    lines.push(...fieldTable('Request', request), ...fieldTable('Answer', answer));
  }
  for (const [name, { number, purpose, fields }] of Object.entries({ ...events, refused })) {
    lines.push(
      `### ${name} (${hex(number)}, box to host)`,
      '',
      `${purpose}.`,
      '',
      ...fieldTable('Fields', fields),
    );
  }
  return lines;
}

/** The fault catalogue as Markdown lines; letters stand for the numbers of the event. */
export function documentFaults(): string[] {
  const rows = Object.entries(faults).map(
    ([name, { number, unit, remedy }]) => `| ${number} | \`${name}\` | ${unit} | ${remedy} |`,
  );
  return ['| number | name | unit of measured and limit | what to do |', '|---|---|---|---|', ...rows];
}

/** The refusal catalogue as Markdown lines; NaN never reaches a sentence, so a letter-free sample number is used. */
export function documentRefusals(): string[] {
  const rows = Object.entries(refusals).map(
    ([name, { number, says }]) => `| ${number} | \`${name}\` | ${says(0).replaceAll('0', 'N')} |`,
  );
  return ['| number | name | sentence, N = detail |', '|---|---|---|', ...rows];
}

/** The shared limits as Markdown lines. */
export function documentLimits(): string[] {
  const rows = Object.entries(limits).map(
    ([name, { initial, min, max, why }]) => `| \`${name}\` | ${initial} | ${min} .. ${max} | ${why} |`,
  );
  return ['| limit | initial | range | why |', '|---|---|---|---|', ...rows];
}
