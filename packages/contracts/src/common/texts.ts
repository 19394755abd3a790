import { z } from 'zod';

/** What turns round, or sets apart, the text that follows it (Unicode Bidirectional Algorithm, UAX #9: embeddings, overrides, isolates). */
const TURNING = '\\u202a-\\u202e\\u2066-\\u2069';
/** What no text holds: code points that are no characters (Unicode Standard, chapter 23), which a workbook cannot keep either. */
const NONE = '\\p{Noncharacter_Code_Point}';
/** What cannot be seen on one line: controls, line separators, marks of direction, and spaces and hyphens of no width. */
const UNSEEN = '\\p{Cc}\\u2028\\u2029\\p{Bidi_Control}\\u00ad\\u180e\\u200b\\u2060-\\u2064\\ufeff';

const IN_NO_TEXT = new RegExp(`[${TURNING}${NONE}]|(?![\\t\\n\\r])\\p{Cc}`, 'u');
const IN_NO_LINE = new RegExp(`[${NONE}${UNSEEN}]`, 'u');
/** Joiners, which some scripts write by; beside a letter of ASCII they only make a twin of another name. */
const IDLE_JOINER = /(?:[\x20-\x7e]|^)[\u200c\u200d]|[\u200c\u200d](?:[\x20-\x7e]|$)/;
const VISIBLE = /[\p{L}\p{N}\p{P}\p{S}]/u;

/** Whether a text of several lines holds only what can be kept and shown as it stands. */
export const isPlainText = (text: string): boolean => !IN_NO_TEXT.test(text);

/** Whether a text is one line, all of which is seen: two that look alike would else be two names. */
export const isPlainLine = (text: string): boolean =>
  text === '' || (VISIBLE.test(text) && !IN_NO_LINE.test(text) && !IDLE_JOINER.test(text));

/** Copied text often brings such a character along: whoever looks at it needs to be told that it is there. */
const NOT_PLAIN = { message: 'characters that can be seen', params: { code: 'unseen' } };

/** What is known by it: a name, a mark, a designation. Accents are kept in one form, however they were typed. */
export const lineOf = (most: number) =>
  z.string().trim().normalize('NFC').min(1).max(most).refine(isPlainLine, NOT_PLAIN);

/** What is only read. */
export const textOf = (most: number) => z.string().trim().max(most).refine(isPlainText, NOT_PLAIN);
