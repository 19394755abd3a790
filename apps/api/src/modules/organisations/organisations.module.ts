import { Module } from '@nestjs/common';
import { SizingModule } from '../sizing/index.js';
import { OrganisationsController } from './organisations.controller.js';
import { OrganisationsRepository } from './organisations.repository.js';
import { OrganisationsService } from './organisations.service.js';
import { SignInPoliciesRepository } from './sign-in-policies.repository.js';
import { SignInPoliciesService } from './sign-in-policies.service.js';

@Module({
  imports: [SizingModule],
  controllers: [OrganisationsController],
  providers: [OrganisationsService, OrganisationsRepository, SignInPoliciesService, SignInPoliciesRepository],
})
export class OrganisationsModule {}
