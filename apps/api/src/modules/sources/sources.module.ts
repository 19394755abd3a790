import { Module } from '@nestjs/common';
import { IssuesModule } from '../issues/index.js';
import { SilenceKeeper } from './silence-keeper.js';
import { SilencesRepository } from './silences.repository.js';
import { SourceSecrets } from './source-secrets.js';
import { SourcesController } from './sources.controller.js';
import { SourcesRepository } from './sources.repository.js';
import { SourcesService } from './sources.service.js';

@Module({
  imports: [IssuesModule],
  controllers: [SourcesController],
  providers: [SourcesService, SourcesRepository, SourceSecrets, SilenceKeeper, SilencesRepository],
  exports: [SourceSecrets],
})
export class SourcesModule {}
