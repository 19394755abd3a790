/** For the command that verifies audit chains, which serves nobody. */
export { readHeads } from './platform/audit/heads.js';
export { verifyChains } from './platform/audit/verify.js';
