import { Injectable } from '@nestjs/common';
import type { Notice, NoticeKind } from '@repo/contracts';
import { Mail } from '../../platform/mail/mail.js';
import { NoticesRepository } from './notices.repository.js';
import { UsersRepository } from './users.repository.js';

/** Tells people what happened to their account: in it, and by a message where their address is proven. */
@Injectable()
export class Notices {
  constructor(
    private readonly repository: NoticesRepository,
    private readonly users: UsersRepository,
    private readonly mail: Mail,
  ) {}

  async tell(userId: string, kind: NoticeKind, details: Record<string, string> = {}): Promise<void> {
    await this.repository.insert(userId, kind, details);
    const user = await this.users.find(userId);
    if (user === null || user.email_proven_at === null) return;
    this.mail.send(user.email, { kind: 'notice', displayName: user.display_name, notice: kind, details });
  }

  /** The same, unless it was told within the hour. */
  async tellOnceAnHour(userId: string, kind: NoticeKind): Promise<void> {
    if (!(await this.repository.wasToldWithinTheHour(userId, kind))) await this.tell(userId, kind);
  }

  list(userId: string, before: readonly (string | number)[] | null, limit: number): Promise<Notice[]> {
    return this.repository.list(userId, before, limit);
  }

  countUnseen(userId: string): Promise<number> {
    return this.repository.countUnseen(userId);
  }

  see(userId: string): Promise<void> {
    return this.repository.see(userId);
  }
}
