import type { Role } from '@repo/contracts';

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
