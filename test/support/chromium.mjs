export const CHROMIUM = process.env.CHROMIUM_PATH ?? '/usr/bin/chromium';
/** As root there is no sandbox; the rest keeps the browser from calling home. */
export const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];
