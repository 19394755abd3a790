import { Module } from '@nestjs/common';
import { SizingModule } from '../sizing/index.js';
import { OrganisationsController } from './organisations.controller.js';
import { OrganisationsRepository } from './organisations.repository.js';
import { OrganisationsService } from './organisations.service.js';

@Module({
  imports: [SizingModule],
  controllers: [OrganisationsController],
  providers: [OrganisationsService, OrganisationsRepository],
})
export class OrganisationsModule {}
