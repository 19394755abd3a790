import { Module } from '@nestjs/common';
import { AccountService } from './account.service.js';
import { AuthenticatorsController } from './authenticators.controller.js';
import { AuthenticatorsService } from './authenticators.service.js';
import { Credentials } from './credentials.js';
import { Guesses } from './guesses.js';
import { GuessesRepository } from './guesses.repository.js';
import { KnownDevices } from './known-devices.js';
import { KnownDevicesRepository } from './known-devices.repository.js';
import { Notices } from './notices.js';
import { NoticesRepository } from './notices.repository.js';
import { OneTimeLinksRepository } from './one-time-links.repository.js';
import { PasskeysController } from './passkeys.controller.js';
import { PasskeysRepository } from './passkeys.repository.js';
import { PasskeysService } from './passkeys.service.js';
import { SecondFactors } from './second-factors.js';
import { SecondFactorsRepository } from './second-factors.repository.js';
import { SignInService } from './sign-in.service.js';
import { UsersController } from './users.controller.js';
import { UsersRepository } from './users.repository.js';
import { UsersService } from './users.service.js';

@Module({
  controllers: [UsersController, AuthenticatorsController, PasskeysController],
  providers: [
    AccountService,
    AuthenticatorsService,
    Credentials,
    Guesses,
    GuessesRepository,
    KnownDevices,
    KnownDevicesRepository,
    Notices,
    NoticesRepository,
    OneTimeLinksRepository,
    PasskeysRepository,
    PasskeysService,
    SecondFactors,
    SecondFactorsRepository,
    SignInService,
    UsersRepository,
    UsersService,
  ],
  exports: [AccountService, Credentials, Notices, SignInService, UsersRepository],
})
export class UsersModule {}
