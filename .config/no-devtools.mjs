export default { initialize() {}, connectToDevTools() {} };
