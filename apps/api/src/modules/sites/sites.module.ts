import { Module } from '@nestjs/common';
import { SizingModule } from '../sizing/index.js';
import { SitesController } from './sites.controller.js';
import { SitesRepository } from './sites.repository.js';
import { SitesService } from './sites.service.js';

@Module({ imports: [SizingModule], controllers: [SitesController], providers: [SitesService, SitesRepository] })
export class SitesModule {}
