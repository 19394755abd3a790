import { isDeepStrictEqual } from 'node:util';
import type { SeedingServices } from '@repo/api/seeding';
import { uuidv7 } from 'uuidv7';
import { asSuperuser, type Organisation } from '../builders/world.js';
import type { TestApi } from './api.js';
import { withSeeding } from './shared.js';

const BASES = ['as-left', 'target'] as const;

interface StandingRow {
  circuit_id: string;
  status: string;
  check_code: string | null;
  reason: string;
  summary: unknown;
  sort_key: string;
}
interface RecordRow {
  id: string;
  circuit_id: string;
  machine_id: string;
  basis: (typeof BASES)[number];
  canonical_text: string;
  currency: string;
  reasons: { entity: string; entityId: string }[];
}
/** Watches whether what is kept of an organisation's circuits is what would be computed now. */
export class ProofWatch {
  private constructor(
    private readonly api: TestApi,
    private readonly organisation: Organisation,
    private readonly seeding: SeedingServices,
    private readonly end: () => Promise<void>,
  ) {}

  static async begin(api: TestApi, organisation: Organisation): Promise<ProofWatch> {
    let end: (() => void) | undefined;
    const untilEnd = new Promise<void>((resolve) => {
      end = resolve;
    });
    return new Promise((resolve, reject) => {
      const whole = withSeeding(api.db, (seeding) => {
        resolve(
          new ProofWatch(api, organisation, seeding, async () => {
            end?.();
            await whole;
          }),
        );
        return untilEnd;
      });
      whole.catch(reject);
    });
  }

  stop(): Promise<void> {
    return this.end();
  }

  private as<T>(work: () => Promise<T>): Promise<T> {
    const { id: organisationId, memberships } = this.organisation;
    const membershipId = memberships.engineer ?? '';
    const actor = {
      ...{ sessionId: 'watch', userId: membershipId, membershipId, organisationId },
      ...{ customerId: null, role: 'engineer' as const, displayName: 'Watch' },
    };
    return this.seeding.as(actor, work);
  }

  private query<Row extends object>(text: string): Promise<Row[]> {
    return asSuperuser(this.api, async (client) => (await client.query<Row>(text, [this.organisation.id])).rows);
  }

  private readonly circuitIds = async (): Promise<string[]> =>
    (await this.query<{ id: string }>('SELECT id FROM circuits WHERE organisation_id = $1 ORDER BY id')).map(
      ({ id }) => id,
    );

  /** Makes every circuit's sizing records current. */
  async makeRecords(): Promise<void> {
    const current = await this.query<{ circuit_id: string; basis: string }>(
      `SELECT s.circuit_id, r.basis FROM sizing_currencies s
       JOIN sizing_records r ON r.organisation_id = s.organisation_id AND r.id = s.sizing_record_id
       WHERE s.organisation_id = $1 AND s.currency = 'current'`,
    );
    const there = new Set(current.map(({ circuit_id, basis }) => `${circuit_id} ${basis}`));
    for (const circuitId of await this.circuitIds()) {
      for (const basis of BASES) {
        if (there.has(`${circuitId} ${basis}`)) continue;
        await this.as(() => this.seeding.makeSizingRecord({ id: uuidv7(), circuitId, basis, note: '' }));
      }
    }
  }

  /** What is kept of each circuit, without when. */
  private async kept(): Promise<unknown> {
    const standings = await this.query<StandingRow>(
      `SELECT circuit_id, status, check_code, reason, summary, sort_key FROM circuit_standings
       WHERE organisation_id = $1 ORDER BY circuit_id`,
    );
    const dependencies = await this.query<object>(
      `SELECT circuit_id, entity, entity_id FROM circuit_dependencies WHERE organisation_id = $1 ORDER BY 1, 2, 3`,
    );
    return { standings, dependencies };
  }

  /** What is kept of all circuits, and what is kept once all are computed anew. */
  async keptAndComputed(): Promise<{ kept: unknown; computed: unknown }> {
    const kept = await this.kept();
    const circuitIds = await this.circuitIds();
    await this.as(() => this.seeding.refresh(circuitIds));
    return { kept, computed: await this.kept() };
  }

  /** Of the records that are not superseded: which of them are stale, and which would be made otherwise today. */
  async records(): Promise<{ row: RecordRow; isStale: boolean; isOther: boolean }[]> {
    const rows = await this.query<RecordRow>(
      `SELECT r.id, r.circuit_id, c.machine_id, r.basis, r.canonical_text, s.currency, s.reasons
       FROM sizing_records r
       JOIN sizing_currencies s ON s.organisation_id = r.organisation_id AND s.sizing_record_id = r.id
       JOIN circuits c ON c.organisation_id = r.organisation_id AND c.id = r.circuit_id
       WHERE r.organisation_id = $1 AND s.currency <> 'superseded' ORDER BY r.number`,
    );
    const circuitIds = await this.circuitIds();
    const now = new Map<string, unknown>();
    for (const basis of BASES) {
      for (const { place, facts } of await this.as(() => this.seeding.prove(circuitIds, basis))) {
        now.set(`${place.circuitId} ${basis}`, JSON.parse(JSON.stringify(facts)));
      }
    }
    return rows.map((row) => {
      const { input } = JSON.parse(row.canonical_text) as { input: unknown };
      const isOther = !isDeepStrictEqual(input, now.get(`${row.circuit_id} ${row.basis}`));
      return { row, isStale: row.currency === 'stale', isOther };
    });
  }
}
