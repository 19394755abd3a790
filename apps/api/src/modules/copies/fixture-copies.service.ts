import { Injectable } from '@nestjs/common';
import {
  createFixtureBodySchema,
  createOperationBodySchema,
  type Fixture,
  type InputOf,
  type routes,
} from '@repo/contracts';
import { FixturesService } from '../fixtures/index.js';
import { OperationsService } from '../operations/index.js';
import { asBody, idInCopy } from './copying.js';

type Body = InputOf<(typeof routes.fixtures)['copy']>['body'];

/** A fixture as designed, once more, with the operations that it holds today. It is fitted nowhere yet. */
@Injectable()
export class FixtureCopiesService {
  constructor(
    private readonly fixtures: FixturesService,
    private readonly operations: OperationsService,
  ) {}

  async copy(likeId: string, { operationsFrom: validFrom, ...body }: Body): Promise<Fixture> {
    const like = await this.fixtures.get(likeId);
    const elements = like.elements.map((element) => ({ ...element, id: idInCopy(body.id, element.id) }));
    const copied = await this.fixtures.create(asBody(createFixtureBodySchema, like, { ...body, elements }));
    for (const operation of await this.operations.listOfFixtures([likeId], new Date())) {
      // What was typed counts again should somebody go back to typing.
      const typed = operation.requiredBasis === 'typed' ? operation : operation.typedRequired;
      const { requiredPressure = null, requiredSource = '' } = typed ?? {};
      const id = idInCopy(body.id, operation.id);
      const differing = { id, fixtureId: body.id, requiredPressure, requiredSource, validFrom };
      await this.operations.create(asBody(createOperationBodySchema, operation, differing));
    }
    return copied;
  }
}
