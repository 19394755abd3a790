#!/usr/bin/env node
/**
 * Stand-in for Prisma's native schema engine, named by PRISMA_SCHEMA_ENGINE_BINARY: the official WebAssembly build of the
 * same engine over @prisma/adapter-pg, spoken to in the JSON-RPC that Prisma's command line uses with the native one.
 * With it `prisma migrate diff`, `dev`, `status` and `resolve` work where the engine cannot be downloaded.
 */
import { createRequire } from 'node:module';
import { readCommandLine } from './schema-engine/command-line.mjs';
import { runDatabaseCommand } from './schema-engine/database-command.mjs';
import { serve } from './schema-engine/rpc.mjs';

const command = readCommandLine(process.argv.slice(2));
if (command.isVersionAsked) {
  const { enginesVersion } = createRequire(import.meta.url)('@prisma/engines-version');
  console.log(`schema-engine-cli ${enginesVersion}`);
} else if (command.databaseCommand !== undefined) {
  process.exitCode = await runDatabaseCommand(command.databaseCommand, command.url);
} else {
  serve(command);
}
