import { Module } from '@nestjs/common';
import { SourceSecrets } from './source-secrets.js';
import { SourcesController } from './sources.controller.js';
import { SourcesRepository } from './sources.repository.js';
import { SourcesService } from './sources.service.js';

@Module({
  controllers: [SourcesController],
  providers: [SourcesService, SourcesRepository, SourceSecrets],
  exports: [SourceSecrets],
})
export class SourcesModule {}
