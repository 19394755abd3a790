import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { ImportFilesService } from './import-files.service.js';
import { ImportsService } from './imports.service.js';

type Imports = typeof routes.imports;

@Controller()
export class ImportsController {
  constructor(
    private readonly imports: ImportsService,
    private readonly files: ImportFilesService,
  ) {}

  @Handles(routes.imports.list)
  list(@Input() { query }: InputOf<Imports['list']>) {
    return this.imports.list(query);
  }

  @Handles(routes.imports.create)
  create(@Input() { body }: InputOf<Imports['create']>) {
    return this.imports.create(body);
  }

  @Handles(routes.imports.template)
  template(@Input() { query }: InputOf<Imports['template']>) {
    return this.files.template(query.entity, query.format);
  }

  @Handles(routes.imports.get)
  get(@Input() { params }: InputOf<Imports['get']>) {
    return this.imports.get(params.id);
  }

  @Handles(routes.imports.upload)
  upload(@Input() { params, body }: RouteInput<{ id: string }, undefined, Uint8Array>) {
    return this.imports.upload(params.id, body);
  }

  @Handles(routes.imports.update)
  update(@Input() { params, body, version }: InputOf<Imports['update']> & { version: number }) {
    return this.imports.update(params.id, version, body);
  }

  @Handles(routes.imports.check)
  check(@Input() { params }: InputOf<Imports['check']>) {
    return this.imports.check(params.id);
  }

  @Handles(routes.imports.rows)
  rows(@Input() { params, query }: InputOf<Imports['rows']>) {
    return this.imports.rows(params.id, query);
  }

  @Handles(routes.imports.refused)
  refused(@Input() { params, query }: InputOf<Imports['refused']>) {
    return this.files.refused(params.id, query.format);
  }

  @Handles(routes.imports.commit)
  commit(@Input() { params, body }: InputOf<Imports['commit']>) {
    return this.imports.commit(params.id, body);
  }

  @Handles(routes.imports.undo)
  undo(@Input() { params }: InputOf<Imports['undo']>) {
    return this.imports.undo(params.id);
  }
}
