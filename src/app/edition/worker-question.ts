// One question for a worker that lasts as long as the answer takes.

/** What such a worker looks like from here. */
export interface QuestionPort<Question, Reply> {
  postMessage(question: Question): void;
  onmessage: ((event: MessageEvent<Reply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

/** What is reported of the answer; the worker ends with the last reply, or when it fails. */
export interface QuestionNews<Reply> {
  readonly isLast: (reply: Reply) => boolean;
  readonly onReply: (reply: Reply) => void;
  /** `message` may be blank. */
  readonly onFailure: (message: string) => void;
}

/** Asks a worker; gives what stops it, and nothing more is reported then. */
export function askWorker<Question, Reply>(
  worker: QuestionPort<Question, Reply>,
  question: Question,
  { isLast, onReply, onFailure }: QuestionNews<Reply>,
): () => void {
  const stop = () => {
    worker.onmessage = null;
    worker.onerror = null;
    worker.terminate();
  };
  worker.onmessage = ({ data }) => {
    if (isLast(data)) stop();
    onReply(data);
  };
  worker.onerror = (event) => {
    stop();
    onFailure(event.message);
  };
  worker.postMessage(question);
  return stop;
}
