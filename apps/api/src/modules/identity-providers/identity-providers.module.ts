import { Module } from '@nestjs/common';
import { MembershipsModule } from '../memberships/index.js';
import { UsersModule } from '../users/index.js';
import { IdentityProvidersController } from './identity-providers.controller.js';
import { IdentityProvidersRepository } from './identity-providers.repository.js';
import { IdentityProvidersService } from './identity-providers.service.js';
import { OpenId } from './open-id.js';
import { ProviderSignInsRepository } from './provider-sign-ins.repository.js';
import { ProviderSignInsService } from './provider-sign-ins.service.js';

@Module({
  imports: [UsersModule, MembershipsModule],
  controllers: [IdentityProvidersController],
  providers: [
    IdentityProvidersRepository,
    IdentityProvidersService,
    OpenId,
    ProviderSignInsRepository,
    ProviderSignInsService,
  ],
})
export class IdentityProvidersModule {}
