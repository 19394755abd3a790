import { startStack, type Stack } from '../support/stack.js';

/** More circuits of one customer than a window shows, and than the page reads at first. */
const MANY = 70;
const AT_FIRST = 25;

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
  const id = (kind: string): string => `('${kind}0000000-0000-4000-8000-' || lpad(n::text, 12, '0'))::uuid`;
  const ofMachine = `(SELECT m.* FROM machines m JOIN memberships p ON p.customer_id = m.customer_id JOIN users u ON u.id = p.user_id
    JOIN circuit_standings s ON s.organisation_id = m.organisation_id AND s.machine_id = m.id
    WHERE u.email = 'viewer@demo.example' ORDER BY m.name, m.id LIMIT 1) m CROSS JOIN generate_series(1, ${MANY}) n`;
  await stack.query(`INSERT INTO machines (organisation_id, customer_id, id, site_id, name, form, way_in)
    SELECT organisation_id, customer_id, ${id('a')}, site_id, 'Z ' || n, 'single-station', 'direct' FROM ${ofMachine}`);
  await stack.query(`INSERT INTO stations (organisation_id, customer_id, id, machine_id, name, position)
    SELECT organisation_id, customer_id, ${id('b')}, ${id('a')}, 'Station 1', 0 FROM ${ofMachine}`);
  await stack.query(`INSERT INTO power_units (organisation_id, customer_id, id, machine_id, name, drive)
    SELECT organisation_id, customer_id, ${id('c')}, ${id('a')}, 'Power unit 1', 'air' FROM ${ofMachine}`);
  await stack.query(`INSERT INTO circuits (organisation_id, customer_id, id, machine_id, power_unit_id, station_id, name)
    SELECT organisation_id, customer_id, ${id('d')}, ${id('a')}, ${id('c')}, ${id('b')}, 'Station 1' FROM ${ofMachine}`);
  await stack.query(`INSERT INTO circuit_standings (organisation_id, customer_id, circuit_id, machine_id, site_id, status, status_rank,
      ratio_rank, probability_rank, sort_key, check_code, reason, calculation_version, summary)
    SELECT s.organisation_id, s.customer_id, ${id('d')}, ${id('a')}, s.site_id, s.status, s.status_rank, s.ratio_rank, s.probability_rank,
      'z ' || n, s.check_code, s.reason, s.calculation_version, s.summary || jsonb_build_object('machineName', 'Z ' || n)
    FROM ${ofMachine} CROSS JOIN LATERAL (SELECT * FROM circuit_standings one WHERE one.machine_id = m.id LIMIT 1) s`);
}, 180_000);
afterAll(() => stack.stop());

describe('a customer with many machines', () => {
  it.each([
    ['a phone', 360, 740, 1],
    ['a desk', 1440, 900, 2],
  ])(
    'sees the first of them at once on %s, and the rest as the end of the list comes near',
    async (_where, width, height, pages) => {
      const { page, context, complaints } = await stack.as('viewer', { width, height });
      const asked: string[] = [];
      page.on('request', (request) => {
        const { pathname, search } = new URL(request.url());
        if (pathname === '/api/v1/circuits/standings') asked.push(search);
      });
      await page.goto('/portal');
      const rows = page.getByRole('table').getByRole('rowheader');
      await page.waitForLoadState('networkidle');
      expect(await rows.count()).toBeLessThanOrEqual(AT_FIRST * pages);
      expect(asked.length).toBeLessThan(pages);
      await page.locator('#main').focus();
      const counted = await page.request.get('/api/v1/circuits/standing-counts');
      const all = ((await counted.json()) as { total: number }).total;
      expect(all).toBeGreaterThan(MANY);
      for (let press = 0; press < 40 && (await rows.count()) < all; press += 1) {
        await page.keyboard.press('End');
        await page.waitForTimeout(100);
      }
      expect(await rows.count()).toBe(all);
      const names = await rows.allTextContents();
      expect(new Set(names).size).toBe(all);
      expect(complaints).toEqual([]);
      await context.close();
    },
  );
});
