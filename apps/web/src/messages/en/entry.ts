import { accountMessages } from './account';
import { commonMessages } from './common';
import { fieldProblemMessages } from './field-problems';
import { identityProviderMessages } from './identity-providers';
import { peopleMessages } from './people';

/** What pages say before somebody is signed in. All other words come with the pages inside. */
export const entryMessages = {
  ...commonMessages,
  ...fieldProblemMessages,
  ...accountMessages,
  ...identityProviderMessages,
  ...peopleMessages,
} as const;
