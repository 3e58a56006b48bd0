// One plain line at the end of a run.
export default class ClosingLine {
  counts = {};

  onTestEnd(_test, result) {
    this.counts[result.status] = (this.counts[result.status] ?? 0) + 1;
  }

  onEnd({ status, duration }) {
    const counts = Object.entries(this.counts).map(([word, count]) => `${count} ${word}`);
    const seconds = (duration / 1000).toFixed(0);
    console.log(`browser tests: ${status}; ${counts.join(", ") || "none ran"} in ${seconds} s`);
  }
}
