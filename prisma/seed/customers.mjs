/** @typedef {readonly [name: string, place: string, country: keyof typeof ZONES, latitude: number, longitude: number]} SitePlan */
/** @typedef {{ name: string, trade: string, sites: readonly SitePlan[] }} CustomerPlan */
/** @typedef {import('./rows.types.js').CustomerRow} CustomerRow */
/** @typedef {import('./rows.types.js').SiteRow} SiteRow */

const ZONES = { PT: 'Europe/Lisbon', ES: 'Europe/Madrid' };

/**
 * Twelve invented customers in different trades, sixteen sites in northern Portugal and Galicia. Places are real, firms are not.
 * @type {readonly CustomerPlan[]}
 */
const CUSTOMERS = [
  {
    name: 'Varzelo Pump Housings',
    trade: 'cast pump housings',
    sites: [
      ['Works 1', 'Braga', 'PT', 41.55, -8.43],
      ['Works 2', 'Barcelos', 'PT', 41.53, -8.62],
    ],
  },
  { name: 'Ledrado Valve Bodies', trade: 'valve bodies', sites: [['Plant', 'Vigo', 'ES', 42.24, -8.72]] },
  {
    name: 'Corvane Orthopaedics',
    trade: 'orthopaedic implants',
    sites: [['Clean works', 'Porto', 'PT', 41.15, -8.61]],
  },
  {
    name: 'Tesnal Gearcases',
    trade: 'gearcases',
    sites: [
      ['Hall A', 'Aveiro', 'PT', 40.64, -8.65],
      ['Hall B', 'Agueda', 'PT', 40.58, -8.44],
    ],
  },
  { name: 'Amerosa Crankshafts', trade: 'crankshafts', sites: [['Works', 'Leiria', 'PT', 39.74, -8.81]] },
  { name: 'Fontrelo Brake Calipers', trade: 'brake calipers', sites: [['Works', 'Ourense', 'ES', 42.34, -7.86]] },
  {
    name: 'Quintavel Manifold Blocks',
    trade: 'hydraulic manifold blocks',
    sites: [['Works', 'Guimaraes', 'PT', 41.44, -8.29]],
  },
  {
    name: 'Nordelo Turbine Rings',
    trade: 'turbine rings',
    sites: [
      ['Ring shop', 'Ferrol', 'ES', 43.48, -8.23],
      ['Finishing', 'A Coruna', 'ES', 43.36, -8.41],
    ],
  },
  { name: 'Beiraluz Mould Bases', trade: 'mould bases', sites: [['Works', 'Marinha Grande', 'PT', 39.75, -8.93]] },
  {
    name: 'Pontrelas Motorcycle Frames',
    trade: 'motorcycle frames',
    sites: [['Works', 'Pontevedra', 'ES', 42.43, -8.64]],
  },
  { name: 'Riaclara Optics Mounts', trade: 'optical mounts', sites: [['Works', 'Coimbra', 'PT', 40.21, -8.43]] },
  {
    name: 'Montesar Aerospace Brackets',
    trade: 'aerospace brackets',
    sites: [
      ['North hall', 'Lugo', 'ES', 43.01, -7.56],
      ['South hall', 'Viana do Castelo', 'PT', 41.69, -8.83],
    ],
  },
];

const OPEN = [1, 2, 3, 4, 5].map((weekday) => ({ weekday, from: '07:00', to: weekday === 5 ? '14:00' : '18:00' }));

/**
 * @param {import('./random.mjs').Random} random
 * @param {Date} at
 */
export function buildCustomers(random, at) {
  /** @type {CustomerRow[]} */
  const customers = [];
  /** @type {SiteRow[]} */
  const sites = [];
  for (const { name, trade, sites: places } of CUSTOMERS) {
    const customerId = random.id(at);
    customers.push({
      id: customerId,
      name,
      trade,
      contact_name: '',
      contact_email: '',
      contact_phone: '',
      note: 'Invented for the demonstration.',
      created_at: at,
      version: 1,
    });
    for (const [siteName, place, country, latitude, longitude] of places) {
      sites.push({
        id: random.id(at),
        customer_id: customerId,
        name: siteName,
        address: '',
        place,
        country,
        time_zone: ZONES[country],
        latitude,
        longitude,
        access_windows: OPEN,
        note: '',
        created_at: at,
        version: 1,
      });
    }
  }
  return { customers, sites };
}
