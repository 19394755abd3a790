import { accountMessages } from './account';
import { alarmCountMessages } from './alarm-counts';
import { apiKeyMessages } from './api-keys';
import { calculationMessages } from './calculations';
import { checkMessages } from './checks';
import { controlMessages } from './control';
import { missingMessages } from './missing';
import { commonMessages } from './common';
import { componentMessages } from './components';
import { exportMessages } from './exports';
import { fieldProblemMessages } from './field-problems';
import { findingMessages } from './findings';
import { fixtureMessages } from './fixtures';
import { fleetMessages } from './fleet';
import { identityProviderMessages } from './identity-providers';
import { importMessages } from './imports';
import { issueMessages } from './issues';
import { jobMessages } from './jobs';
import { machineMessages } from './machines';
import { peopleMessages } from './people';
import { settingMessages } from './settings';
import { sizingMessages } from './sizing';
import { sourceMessages } from './sources';

/** Every word on screen. Another language is another object with the same keys; the compiler misses none. */
export const en = {
  ...commonMessages,
  ...fieldProblemMessages,
  ...accountMessages,
  ...apiKeyMessages,
  ...identityProviderMessages,
  ...fleetMessages,
  ...machineMessages,
  ...checkMessages,
  ...controlMessages,
  ...missingMessages,
  ...settingMessages,
  ...peopleMessages,
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
