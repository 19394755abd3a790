import net from 'node:net';
import { uuidv7 } from 'uuidv7';
import { anOrganisation, type Organisation } from '../builders/world.js';
import { startApi, type TestApi } from '../support/api.js';

/** As much of a mail server as takes messages (RFC 5321): it keeps what it was sent. */
function startMailServer(): Promise<{
  port: number;
  messages: string[];
  refuse: (count: number) => void;
  stop: () => void;
}> {
  const messages: string[] = [];
  let refusals = 0;
  const server = net.createServer((socket) => {
    let isData = false;
    let kept = '';
    const say = (line: string) => socket.write(`${line}\r\n`);
    say('220 here');
    socket.on('error', () => socket.destroy());
    socket.on('data', (chunk) => {
      kept += chunk.toString('utf8');
      for (;;) {
        const end = isData ? kept.indexOf('\r\n.\r\n') : kept.indexOf('\r\n');
        if (end < 0) return;
        const piece = kept.slice(0, end);
        kept = kept.slice(end + (isData ? 5 : 2));
        if (isData) {
          isData = false;
          messages.push(piece);
          say('250 taken');
        } else if (/^DATA/i.test(piece)) {
          isData = true;
          say('354 go on');
        } else if (/^QUIT/i.test(piece)) {
          say('221 bye');
          socket.end();
        } else if (/^MAIL/i.test(piece) && refusals > 0) {
          refusals -= 1;
          say('451 later');
        } else say('250 well');
      }
    });
  });
  return new Promise((resolve) => {
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as net.AddressInfo;
      resolve({ port, messages, refuse: (count) => (refusals = count), stop: () => server.close() });
    });
  });
}

let api: TestApi;
let organisation: Organisation;
let mail: Awaited<ReturnType<typeof startMailServer>>;

beforeAll(async () => {
  mail = await startMailServer();
  api = await startApi({
    SMTP_URL: `smtp://127.0.0.1:${mail.port}`,
    PUBLIC_URL: 'https://kedge.test.example',
    MAIL_FROM: 'Kedge <kedge@test.example>',
    MAIL_PAUSE_MS: '50',
  });
  organisation = await anOrganisation(api, 'Post\r\nBcc: everybody@evil.example');
});
afterAll(async () => {
  await api.stop();
  mail.stop();
});

const arrived = async (count: number): Promise<string[]> => {
  for (let round = 0; round < 100 && mail.messages.length < count; round += 1) {
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  return mail.messages;
};

describe('messages by SMTP', () => {
  it('come from the given address, with a link to the installation, and no header of an organisation', async () => {
    const administrator = await api.as(organisation.emails.administrator);
    const invitation = { id: uuidv7(), email: 'ada@test.example', displayName: 'Ada', role: 'lead' };
    expect((await administrator.post('/invitations', invitation).expect(201)).body.mailed).toBe(true);
    const [message = ''] = await arrived(1);
    const [head = ''] = message.split('\r\n\r\n', 1);
    expect(head).toContain('From: Kedge <kedge@test.example>');
    expect(head).toContain('To: ada@test.example');
    expect(head).not.toMatch(/^Bcc:/im);
    expect(message).toContain('https://kedge.test.example/invitation#');
  });

  it('are tried again when the server says later', async () => {
    mail.refuse(1);
    const administrator = await api.as(organisation.emails.administrator);
    const invitation = { id: uuidv7(), email: 'eva@test.example', displayName: 'Eva', role: 'lead' };
    await administrator.post('/invitations', invitation).expect(201);
    const messages = await arrived(2);
    expect(messages.at(-1)).toContain('To: eva@test.example');
  });
});
