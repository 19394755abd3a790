import { Module } from '@nestjs/common';
import { SizingModule } from '../sizing/index.js';
import { ComponentTypesController } from './component-types.controller.js';
import { ComponentTypesRepository } from './component-types.repository.js';
import { ComponentTypesService } from './component-types.service.js';
import { InstalledComponentsController } from './installed-components.controller.js';
import { InstalledComponentsRepository } from './installed-components.repository.js';
import { InstalledComponentsService } from './installed-components.service.js';

@Module({
  imports: [SizingModule],
  controllers: [ComponentTypesController, InstalledComponentsController],
  providers: [
    ComponentTypesService,
    ComponentTypesRepository,
    InstalledComponentsService,
    InstalledComponentsRepository,
  ],
  exports: [InstalledComponentsService],
})
export class ComponentsModule {}
