import { Module } from '@nestjs/common';
import { UsersModule } from '../users/index.js';
import { AcceptanceService } from './acceptance.service.js';
import { InvitationsController } from './invitations.controller.js';
import { InvitationsRepository } from './invitations.repository.js';
import { InvitationsService } from './invitations.service.js';
import { MembershipsController } from './memberships.controller.js';
import { MembershipsRepository } from './memberships.repository.js';
import { MembershipsService } from './memberships.service.js';

@Module({
  imports: [UsersModule],
  controllers: [MembershipsController, InvitationsController],
  providers: [AcceptanceService, InvitationsRepository, InvitationsService, MembershipsRepository, MembershipsService],
  exports: [AcceptanceService],
})
export class MembershipsModule {}
