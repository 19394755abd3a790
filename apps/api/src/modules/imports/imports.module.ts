import { Module } from '@nestjs/common';
import { JobsModule } from '../jobs/index.js';
import { OperationsModule } from '../operations/index.js';
import { SizingModule } from '../sizing/index.js';
import { CommitImportService } from './commit-import.service.js';
import { ImportFilesService } from './import-files.service.js';
import { ImportTasks } from './import-tasks.js';
import { ImportWriterRepository } from './import-writer.repository.js';
import { ImportsController } from './imports.controller.js';
import { ImportsRepository } from './imports.repository.js';
import { ImportsService } from './imports.service.js';
import { Snapshots } from './snapshot.js';
import { SnapshotRepository } from './snapshot.repository.js';
import { TypeRevisionsRepository } from './type-revisions.repository.js';
import { UndoImportService } from './undo-import.service.js';
import { UndoRepository } from './undo.repository.js';

@Module({
  imports: [JobsModule, OperationsModule, SizingModule],
  controllers: [ImportsController],
  providers: [
    CommitImportService,
    ImportFilesService,
    ImportTasks,
    ImportWriterRepository,
    ImportsRepository,
    ImportsService,
    SnapshotRepository,
    Snapshots,
    TypeRevisionsRepository,
    UndoImportService,
    UndoRepository,
  ],
})
export class ImportsModule {}
