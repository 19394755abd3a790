import { alarmCountMessages } from './alarm-counts';
import { apiKeyMessages } from './api-keys';
import { calculationMessages } from './calculations';
import { checkMessages } from './checks';
import { controlMessages } from './control';
import { copyMessages } from './copies';
import { missingMessages } from './missing';
import { componentMessages } from './components';
import { entryMessages } from './entry';
import { exportMessages } from './exports';
import { findingMessages } from './findings';
import { fixtureMessages } from './fixtures';
import { fleetMessages } from './fleet';
import { importMessages } from './imports';
import { issueMessages } from './issues';
import { jobMessages } from './jobs';
import { machineMessages } from './machines';
import { settingMessages } from './settings';
import { sizingMessages } from './sizing';
import { sourceMessages } from './sources';

/** Every word on screen. Another language is another object with the same keys; the compiler misses none. */
export const en = {
  ...entryMessages,
  ...apiKeyMessages,
  ...fleetMessages,
  ...machineMessages,
  ...checkMessages,
  ...controlMessages,
  ...copyMessages,
  ...missingMessages,
  ...settingMessages,
  ...componentMessages,
  ...fixtureMessages,
  ...sizingMessages,
  ...issueMessages,
  ...sourceMessages,
  ...findingMessages,
  ...alarmCountMessages,
  ...calculationMessages,
  ...exportMessages,
  ...jobMessages,
  ...importMessages,
} as const;

export type MessageKey = keyof typeof en;
