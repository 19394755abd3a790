import { findChromium } from '@repo/launcher/chromium';

export const CHROMIUM = findChromium() ?? '/usr/bin/chromium';
/**
 * Left out of the browser: the pages of its own that it draws for the address bar in every window, a third of its work here; and, since
 * the last such list counts alone, what the driver of the browser leaves out.
 */
const WITHOUT = [
  ...['WebUIOmniboxPopup', 'WebUIOmniboxAimPopup', 'WebUIOmniboxFullPopup'],
  ...[
    'AvoidUnnecessaryBeforeUnloadCheckSync',
    'DestroyProfileOnBrowserClose',
    'HttpsUpgrades',
    'LensOverlay',
    'MediaRouter',
  ],
  ...[
    'HttpsFirstBalancedModeAutoEnable',
    'PaintHolding',
    'ThirdPartyStoragePartitioning',
    'OptimizationHints',
    'AimEnabled',
  ],
  ...['AvoidCorsURLLoaderRestartOnRedirect', 'NetworkTimeServiceQuerying', 'PreconnectToSearch'],
];

/** As root there is no sandbox; the rest keeps the browser from calling home. */
export const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  `--disable-features=${WITHOUT.join()}`,
];
