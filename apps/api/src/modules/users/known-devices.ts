import { Injectable } from '@nestjs/common';
import type { Origin } from '../../platform/auth/by.decorators.js';
import { makeToken, sha256 } from '../../platform/auth/sessions.js';
import { KnownDevicesRepository } from './known-devices.repository.js';
import { Notices } from './notices.js';

/** Browsers that signed in to an account. They are told of when new; guesses made elsewhere do not slow them. */
@Injectable()
export class KnownDevices {
  constructor(
    private readonly repository: KnownDevicesRepository,
    private readonly notices: Notices,
  ) {}

  /** The token that the browser is to keep. Only one that was given out here is kept on. */
  async remember(userId: string, { deviceToken, userAgent }: Origin): Promise<string> {
    const agent = userAgent.slice(0, 300);
    const state = await this.repository.findState(userId, deviceToken === null ? null : sha256(deviceToken));
    const token = deviceToken !== null && state.is_given ? deviceToken : makeToken();
    await this.repository.upsert(userId, sha256(token), agent);
    if (!state.is_known && state.has_others) {
      await this.notices.tell(userId, 'signed-in-on-new-device', { userAgent: agent });
    }
    return token;
  }

  forgetAll(userId: string): Promise<void> {
    return this.repository.deleteAll(userId);
  }
}
