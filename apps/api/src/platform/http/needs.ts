import type { z } from 'zod';

type Issue = z.core.$ZodIssue;

const TYPES: Record<string, string> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  object: 'an object',
  record: 'an object',
  array: 'a list',
};
const FORMATS: Record<string, string> = {
  uuid: 'a UUID',
  email: 'an e-mail address',
  datetime: 'an instant such as 2026-11-25T09:00:00Z',
  date: 'a calendar day such as 2026-11-25',
};
const OF: Record<string, string> = { string: ' characters', array: ' entries' };

/** What a field needs, in plain words; a rule of our own says it itself. */
export function needsOf(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      return TYPES[issue.expected] ?? issue.expected;
    case 'invalid_value':
      return `one of: ${issue.values.map(String).join(', ')}`;
    case 'invalid_format':
      return FORMATS[issue.format] ?? issue.message;
    case 'too_small':
      return `${issue.inclusive === false ? 'more than' : 'at least'} ${issue.minimum}${OF[issue.origin] ?? ''}`;
    case 'too_big':
      return `${issue.inclusive === false ? 'less than' : 'at most'} ${issue.maximum}${OF[issue.origin] ?? ''}`;
    case 'unrecognized_keys':
      return 'no such field';
    default:
      return issue.message;
  }
}
