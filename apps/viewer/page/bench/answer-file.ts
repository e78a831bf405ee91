import { h } from '../dom.ts';

/** What a lesson's own script calls with its whole text. */
declare global {
  var limnerLessonText: ((text: string) => void) | undefined;
}

/**
 * The whole text of a lesson, answer included, from a file that nothing loads before. A script, as a page opened from a folder can
 * fetch nothing else.
 */
export function lessonFile(id: string): Promise<string> {
  return new Promise((resolve, reject) => {
    const name = `answer-${id}.js`;
    globalThis.limnerLessonText = resolve;
    const script = h('script', { src: name });
    script.addEventListener('error', () =>
      reject(new Error(`The answer is not in this folder (${name} is missing). Ask your teacher.`)),
    );
    document.head.append(script);
  });
}
