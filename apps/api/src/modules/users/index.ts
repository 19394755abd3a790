export { AccountService } from './account.service.js';
export { Credentials } from './credentials.js';
export { Notices } from './notices.js';
export { SignInService, type SignInResult } from './sign-in.service.js';
export { UsersModule } from './users.module.js';
export { UsersRepository, type UserRow } from './users.repository.js';
export { toListedSession } from './users.service.js';
