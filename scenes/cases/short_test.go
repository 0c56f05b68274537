package cases

const long = false
