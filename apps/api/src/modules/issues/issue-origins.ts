import type { Issue } from '@repo/contracts';

/** A part of the product that opens issues by itself. */
export type IssueOrigin = 'alarm-rule';

/** By what the issues of an origin are known: their kind, and an entry that their evidence has. */
export interface OriginMark {
  readonly kind: Issue['kind'];
  readonly entry: string;
}

export const ORIGINS: Readonly<Record<IssueOrigin, OriginMark>> = {
  'alarm-rule': { kind: 'alarm', entry: 'rule' },
};
