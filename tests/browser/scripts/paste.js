// Pastes a text into a box, as the browser does when a person presses the keys for it.
(box, text) => {
  const clipboardData = new DataTransfer();
  clipboardData.setData('text/plain', text);
  box.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
}
