package source

// The files wording_*.go hold the wording of every diagnostic, one function each. A message
// says what is wrong in the writer's terms, and its hint how to put it right. Codes are short
// names that programs may rely on.

func fault(code, message, hint string) Problem {
	return Problem{Code: code, Severity: Error, Message: message, Hint: hint}
}

func remark(code, message, hint string) Problem {
	return Problem{Code: code, Severity: Report, Message: message, Hint: hint}
}

func advice(code, message, hint string) Problem {
	return Problem{Code: code, Severity: Advice, Message: message, Hint: hint}
}
