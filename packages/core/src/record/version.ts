export { SOFTWARE_VERSION } from '../atomic/version.ts';
