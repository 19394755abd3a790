/** Two machines of one customer, with a day that reads two ways and a column that is nothing's. */
export const INSTALLED_BASE = {
  name: 'installed base.csv',
  mimeType: 'text/csv',
  buffer: Buffer.from(
    [
      'Customer;Site;City;Machine;Form;Way in;Stations;In service on;Remarks',
      'Vale Test;Hall 1;Porto;MC 1;pallets;direct;A, B;03/04/2024;old',
      'Vale Test;Hall 1;Porto;MC 2;pallets;hose;A, B;05/06/2024;new',
    ].join('\r\n'),
  ),
};
