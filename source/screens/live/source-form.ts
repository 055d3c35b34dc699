import { checkUrl, type SourceSetup } from '../../live/setup.ts';
import type { FormDef } from '../form/forms.ts';
import { text } from '../form/text.ts';

const NOBODY = 'No user name';
const ENVIRONMENT = 'No password, or the one in LOOPWARD_MQTT_PASSWORD';
const KNOWN = 'The authorities this computer knows, or no TLS';

/** Where the board is heard: asked once a job, kept without any secret. */
export const LIVE_SOURCE: FormDef = {
  title: 'Where is the board heard?',
  says: () => [
    'The address of the broker that the board tells its inputs. Nothing is connected before you tell it to listen. A password stands in the environment or in a file that only you may read, never here.',
  ],
  fields: ({ live }) => {
    const source = live?.setup.source;
    const [url, user] = source?.kind === 'mqtt' ? [source.url, source.username] : [null, null];
    return [
      text('url', 'Address, such as mqtt://192.168.1.20:1883', url === null ? [] : [url], 3),
      text('username', 'User name at the broker', [NOBODY, ...(user === null ? [] : [user])]),
      text('passwordFile', 'Path of the file with the password', [ENVIRONMENT]),
      text('caFile', 'Path of the certificate authority’s file, for mqtts:', [KNOWN]),
    ];
  },
  action: () => ({ do: 'doubt' }),
  effect: (_, answers) => ({ do: 'live-source', source: sourceOf(answers) }),
  works: ({ job }) => job !== null,
};

/** What was answered, or a sentence of what is wrong. */
function sourceOf(answers: Readonly<Record<string, string>>): SourceSetup | string {
  const { url = '', username = NOBODY, passwordFile = ENVIRONMENT, caFile = KNOWN } = answers;
  const wrong = checkUrl(url);
  if (wrong !== null) return wrong;
  const unless = (typed: string, usual: string) => (typed === usual ? null : typed);
  return {
    kind: 'mqtt',
    url,
    username: unless(username, NOBODY),
    passwordFile: unless(passwordFile, ENVIRONMENT),
    caFile: unless(caFile, KNOWN),
  };
}
