package record

func sumOf(data []byte) Hash { return portableSum(data) }
