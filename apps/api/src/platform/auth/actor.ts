import type { Role, SESSION_METHODS } from '@repo/contracts';

/** Who is asking, as what, for whom. */
export interface Actor {
  readonly sessionId: string;
  readonly userId: string;
  readonly membershipId: string;
  readonly organisationId: string;
  /** null for the integrator's own people */
  readonly customerId: string | null;
  readonly role: Role;
  readonly displayName: string;
}

export type SessionMethod = (typeof SESSION_METHODS)[number];

/** Somebody with a session: also how they proved who they are, and when. */
export interface SignedIn extends Actor {
  readonly expiresAt: Date;
  readonly method: SessionMethod;
  readonly hasSecondFactor: boolean;
  readonly secondFactorDemanded: boolean;
  readonly authenticatedAt: Date;
}
