import { Module } from '@nestjs/common';
import { IssueDoor } from './issue-door.js';
import { IssuesController } from './issues.controller.js';
import { IssuesRepository } from './issues.repository.js';
import { IssuesService } from './issues.service.js';

@Module({
  controllers: [IssuesController],
  providers: [IssueDoor, IssuesService, IssuesRepository],
  exports: [IssueDoor],
})
export class IssuesModule {}
