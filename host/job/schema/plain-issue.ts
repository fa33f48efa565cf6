import type { z } from 'zod';

type Issue = z.core.$ZodIssue;

const NAMES: Readonly<Record<string, string>> = {
  number: 'a number',
  int: 'a whole number',
  string: 'text',
  boolean: 'true or false',
  array: 'a list',
  tuple: 'a list',
  object: 'an object',
  record: 'an object',
};
const named = (type: string): string => NAMES[type] ?? type;
const quoted = (values: readonly unknown[]): string =>
  values.map((each) => (typeof each === 'string' ? `"${each}"` : String(each))).join(', ');

/**
 * What is wrong with one field, in words for the person who wrote it: "must be 0 or more". The field itself is named by
 * the caller. A rule that brings its own sentence keeps it.
 */
export const plainIssue = (issue: Issue): string => {
  switch (issue.code) {
    case 'unrecognized_keys':
      return `unknown field ${quoted(issue.keys)}`;
    case 'invalid_type':
      // The schema library tells a field that is not there only in its sentence.
      return issue.message.endsWith('received undefined')
        ? `is missing; give ${named(issue.expected)}`
        : `must be ${named(issue.expected)}`;
    case 'invalid_value':
      return issue.values.length === 1
        ? `must be ${quoted(issue.values)}`
        : `must be one of ${quoted(issue.values)}`;
    case 'too_small':
      return sizeWords(issue, Number(issue.minimum), issue.inclusive === false ? 'above' : 'at least');
    case 'too_big':
      return sizeWords(issue, Number(issue.maximum), issue.inclusive === false ? 'below' : 'at most');
    case 'invalid_format':
      return issue.format === 'datetime' ? 'must be a date and time, as 2024-05-31T09:30:00Z' : issue.message;
    case 'invalid_union':
      return unionWords(issue);
    case 'custom':
    case 'not_multiple_of':
    case 'invalid_key':
    case 'invalid_element':
      return issue.message;
  }
};

/** `what` is a length for texts and lists, a value for numbers. */
function sizeWords({ origin }: { readonly origin: string }, size: number, bound: string): string {
  if (origin === 'string')
    return size === 1 && bound === 'at least'
      ? 'must not be empty'
      : `must have ${bound} ${size} character${size === 1 ? '' : 's'}`;
  if (origin === 'array') return `must have ${bound} ${size} ${size === 1 ? 'entry' : 'entries'}`;
  return `must be ${bound} ${size}`;
}

/** A field that may take several forms: each form in its own words, or that none is known where there is a list of kinds. */
function unionWords({ errors }: Extract<Issue, { code: 'invalid_union' }>): string {
  const forms = errors.flatMap(([first]) =>
    first?.path.length === 0 ? [plainIssue(first).replace(/^must be |^is missing; give /, '')] : [],
  );
  if (forms.length > 0 && forms.length === errors.length)
    return `must be ${[...new Set(forms)].join(' or ')}`;
  return errors.length === 0 ? 'is not one of those known here' : 'is not of any form known here';
}
