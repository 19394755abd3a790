import type { Issue } from '@repo/contracts';

/** A part of the product that opens issues by itself, with the kind that its issues are of. */
export const ORIGINS = { 'alarm-rule': 'alarm', silence: 'silence' } as const satisfies Record<string, Issue['kind']>;
export type IssueOrigin = keyof typeof ORIGINS;
