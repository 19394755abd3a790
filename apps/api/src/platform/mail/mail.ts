import fs from 'node:fs/promises';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { Inject, Injectable, Logger } from '@nestjs/common';
import { createTransport, type Transporter } from 'nodemailer';
import { uuidv7 } from 'uuidv7';
import { ENV, type Env } from '../../config/env.js';
import { Db } from '../db/db.js';
import { composeMessage, type Message } from './messages.js';

const TRIES = 3;
/** Messages that wait to be sent; beyond it new ones are dropped and the log says so. */
const MOST_WAITING = 500;

/**
 * Sends messages by SMTP, or writes them to a folder where none is configured. It goes on behind the request: a message is no
 * promise, and every link in one can be asked for again. What waits is lost when the process dies.
 */
@Injectable()
export class Mail {
  private readonly log = new Logger(Mail.name);
  private readonly transport: Transporter | null;
  private line: Promise<void> = Promise.resolve();
  private waiting = 0;

  constructor(
    @Inject(ENV) private readonly env: Env,
    db: Db,
  ) {
    this.transport =
      env.SMTP_URL !== undefined
        ? createTransport(env.SMTP_URL, { from: env.MAIL_FROM })
        : env.MESSAGES_DIR !== undefined
          ? createTransport({ streamTransport: true, buffer: true }, { from: env.MAIL_FROM })
          : null;
    db.closeAfter(() => this.line);
  }

  get canSend(): boolean {
    return this.transport !== null;
  }

  /** Puts a message into the line; false where this installation sends none. */
  send(to: string, message: Message): boolean {
    if (this.transport === null) return false;
    if (this.waiting >= MOST_WAITING) {
      this.log.warn(`${MOST_WAITING} messages wait already: one of kind ${message.kind} is dropped`);
      return false;
    }
    this.waiting += 1;
    const { transport } = this;
    this.line = this.line.then(async () => {
      await this.deliver(transport, to, message);
      this.waiting -= 1;
    });
    return true;
  }

  private async deliver(transport: Transporter, to: string, message: Message): Promise<void> {
    const { subject, text } = composeMessage(message, this.env.PUBLIC_URL ?? `http://127.0.0.1:${this.env.PORT}`);
    for (let attempt = 1; attempt <= TRIES; attempt += 1) {
      try {
        const sent = (await transport.sendMail({ to, subject, text })) as { message?: unknown };
        if (this.env.SMTP_URL === undefined) await this.keep(sent.message as Buffer);
        return;
      } catch (error) {
        const reason = error instanceof Error ? error.message : String(error);
        this.log.warn(`a message of kind ${message.kind} could not be sent (try ${attempt} of ${TRIES}): ${reason}`);
        if (attempt < TRIES) await delay(this.env.MAIL_PAUSE_MS, undefined, { ref: false });
      }
    }
  }

  private async keep(bytes: Buffer): Promise<void> {
    const folder = this.env.MESSAGES_DIR ?? '';
    await fs.mkdir(folder, { recursive: true, mode: 0o700 });
    await fs.writeFile(path.join(folder, `${uuidv7()}.eml`), bytes, { mode: 0o600 });
  }
}
