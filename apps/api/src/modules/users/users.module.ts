import { Module } from '@nestjs/common';
import { AccountService } from './account.service.js';
import { AuthenticatorsController } from './authenticators.controller.js';
import { AuthenticatorsService } from './authenticators.service.js';
import { Credentials } from './credentials.js';
import { Guesses } from './guesses.js';
import { KnownDevices } from './known-devices.js';
import { Notices } from './notices.js';
import { OneTimeLinks } from './one-time-links.js';
import { SecondFactors } from './second-factors.js';
import { SignInService } from './sign-in.service.js';
import { UsersController } from './users.controller.js';
import { UsersRepository } from './users.repository.js';
import { UsersService } from './users.service.js';

@Module({
  controllers: [UsersController, AuthenticatorsController],
  providers: [
    AccountService,
    AuthenticatorsService,
    Credentials,
    Guesses,
    KnownDevices,
    Notices,
    OneTimeLinks,
    SecondFactors,
    SignInService,
    UsersRepository,
    UsersService,
  ],
  exports: [AccountService, Credentials, Notices, SignInService, UsersRepository],
})
export class UsersModule {}
