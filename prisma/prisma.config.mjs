import { defineConfig } from 'prisma/config';

const nowhere = 'postgresql://nobody@127.0.0.1:1/none';

export default defineConfig({
  schema: 'schema',
  migrations: { path: 'migrations' },
  datasource: { url: process.env.DATABASE_OWNER_URL ?? nowhere },
});
