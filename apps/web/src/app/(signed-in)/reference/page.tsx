import { OpenApiReader } from '@/lib/openapi/openapi-reader';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('reference.title');

export default function Page() {
  return <OpenApiReader />;
}
