import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input } from '../../platform/http/route.decorator.js';
import { ExportsService } from './exports.service.js';

type Exports = typeof routes.exports;

@Controller()
export class ExportsController {
  constructor(private readonly exports: ExportsService) {}

  @Handles(routes.exports.download)
  download(@Input() { params, query }: InputOf<Exports['download']>) {
    return this.exports.download(params.table, query);
  }

  @Handles(routes.exports.start)
  start(@Input() { body }: InputOf<Exports['start']>) {
    return this.exports.start(body);
  }

  @Handles(routes.exports.file)
  file(@Input() { params }: InputOf<Exports['file']>) {
    return this.exports.file(params.id);
  }
}
