// Being written by the helper for findRepeat and checkLining (not by the helper for checkSeams).
export {};
