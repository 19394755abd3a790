export interface DemoLogin {
  email: string;
  role: string;
  note: string;
}

/** Loads the invented demonstration into a migrated database without people. Throws when a row is refused. */
export function loadDemo(input: {
  ownerUrl: string;
  appUrl: string;
  gateUrl: string;
  password: string;
  now?: Date;
}): Promise<{ organisationId: string; logins: DemoLogin[] }>;
