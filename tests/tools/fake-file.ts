// A file by a browser's handle, without a browser: File System Standard, and who may write (WICG File System Access).

/** What the test may do to the file, and what the page wrote. */
export class FakeFile {
  readonly kind = "file";
  readonly name = "Marram backup.edition.json";
  text = "";
  lastModified = 1;
  permission: PermissionState = "granted";
  /** Whether the browser was asked by a press, and what the maker answers then. */
  asked = 0;
  answer: PermissionState = "granted";
  /** The name of the error that each write throws. */
  failure: string | undefined;
  isGone = false;
  writes = 0;

  /** As the page sees it. */
  get handle(): FileSystemFileHandle {
    return this as unknown as FileSystemFileHandle;
  }

  queryPermission = async () => this.permission;
  requestPermission = async () => {
    this.asked += 1;
    this.permission = this.answer;
    return this.permission;
  };

  getFile = async () => {
    if (this.isGone) throw new DOMException("gone", "NotFoundError");
    const { text, lastModified } = this;
    return { lastModified, size: new TextEncoder().encode(text).length, text: async () => text };
  };

  createWritable = async () => {
    let waiting = "";
    return {
      write: async (text: string) => {
        if (this.failure) throw new DOMException("no", this.failure);
        waiting = text;
      },
      close: async () => {
        this.text = waiting;
        this.lastModified += 1;
        this.isGone = false;
        this.writes += 1;
      },
      abort: async () => undefined,
    };
  };
}
