import { accountMessages } from './en/account';
import { alarmCountMessages } from './en/alarm-counts';
import { apiKeyMessages } from './en/api-keys';
import { calculationMessages } from './en/calculations';
import { checkMessages } from './en/checks';
import { controlMessages } from './en/control';
import { missingMessages } from './en/missing';
import { commonMessages } from './en/common';
import { componentMessages } from './en/components';
import { exportMessages } from './en/exports';
import { fixtureMessages } from './en/fixtures';
import { fleetMessages } from './en/fleet';
import { identityProviderMessages } from './en/identity-providers';
import { importMessages } from './en/imports';
import { issueMessages } from './en/issues';
import { jobMessages } from './en/jobs';
import { machineMessages } from './en/machines';
import { peopleMessages } from './en/people';
import { settingMessages } from './en/settings';
import { sizingMessages } from './en/sizing';
import { sourceMessages } from './en/sources';

/** Every word on screen. Another language is another object with the same keys; the compiler misses none. */
export const en = {
  ...commonMessages,
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
  ...alarmCountMessages,
  ...calculationMessages,
  ...exportMessages,
  ...jobMessages,
  ...importMessages,
} as const;

export type MessageKey = keyof typeof en;
