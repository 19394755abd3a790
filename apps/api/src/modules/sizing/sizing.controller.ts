import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input } from '../../platform/http/route.decorator.js';
import { CircuitProofsService } from './circuit-proofs.service.js';
import { SizingRecordsService } from './sizing-records.service.js';

type Sizing = typeof routes.sizingRecords;
type Circuits = typeof routes.circuits;

@Controller()
export class SizingController {
  constructor(
    private readonly records: SizingRecordsService,
    private readonly circuitProofs: CircuitProofsService,
  ) {}

  @Handles(routes.circuits.pressureLadder)
  pressureLadder(@Input() { params, query }: InputOf<Circuits['pressureLadder']>) {
    return this.circuitProofs.ofCircuit(params.id, query);
  }

  @Handles(routes.circuits.wayOut)
  findWayOut(@Input() { params, query }: InputOf<Circuits['wayOut']>) {
    return this.circuitProofs.findWayOut(params.id, query);
  }

  @Handles(routes.sizingRecords.list)
  list(@Input() { query }: InputOf<Sizing['list']>) {
    return this.records.list(query);
  }

  @Handles(routes.sizingRecords.get)
  get(@Input() { params }: InputOf<Sizing['get']>) {
    return this.records.get(params.id);
  }

  @Handles(routes.sizingRecords.create)
  create(@Input() { body }: InputOf<Sizing['create']>) {
    return this.records.create(body);
  }

  @Handles(routes.sizingRecords.replay)
  replay(@Input() { params }: InputOf<Sizing['replay']>) {
    return this.records.replay(params.id);
  }
}
