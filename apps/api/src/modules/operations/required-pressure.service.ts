import { Worker } from 'node:worker_threads';
import { Injectable, type OnModuleDestroy } from '@nestjs/common';
import type { RequiredOfCutResult } from '@repo/calc';
import { fromRequiredOfCut, type Cut, type RequiredOfCut } from '@repo/contracts';
import { CALCULATION_VERSION } from '../sizing/index.js';
import { toCutFigures, toHoldingElements } from './cut-figures.js';
import type { Answer, Question } from './required-pressure.thread.js';

const THREAD = new URL('./required-pressure.thread.js', import.meta.url);

interface Waiting {
  resolve(result: RequiredOfCutResult): void;
  reject(error: Error): void;
}

/** What a cut asks of a fixture's clamps, as a pressure; computed in a thread that is begun when it is first asked for. */
@Injectable()
export class RequiredPressureService implements OnModuleDestroy {
  private thread: Worker | null = null;
  private readonly waiting = new Map<number, Waiting>();
  private last = 0;

  /** @param elements of the fixture, as they are stored */
  async compute(cut: Cut, elements: unknown): Promise<RequiredOfCut> {
    this.last += 1;
    const question: Question = {
      number: this.last,
      cut: toCutFigures(cut),
      elements: toHoldingElements(elements),
    };
    const thread = (this.thread ??= this.begin());
    const result = await new Promise<RequiredOfCutResult>((resolve, reject) => {
      this.waiting.set(question.number, { resolve, reject });
      thread.postMessage(question);
    });
    return fromRequiredOfCut(result, CALCULATION_VERSION);
  }

  async onModuleDestroy(): Promise<void> {
    await this.thread?.terminate();
  }

  private begin(): Worker {
    const thread = new Worker(THREAD);
    // It alone keeps no process alive.
    thread.unref();
    thread.on('message', (answer: Answer) => {
      const waiting = this.waiting.get(answer.number);
      this.waiting.delete(answer.number);
      if ('result' in answer) waiting?.resolve(answer.result);
      else waiting?.reject(new Error(`the required pressure could not be computed: ${answer.failure}`));
    });
    // A thread that ends takes its questions with it; the next question begins another.
    const end = (error: Error): void => {
      if (this.thread === thread) this.thread = null;
      for (const { reject } of this.waiting.values()) reject(error);
      this.waiting.clear();
    };
    thread.on('error', end);
    thread.on('exit', (code) => end(new Error(`the thread of the solver ended with ${code}`)));
    return thread;
  }
}
