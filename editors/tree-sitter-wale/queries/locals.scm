; Names of values hold in the whole file, those of parameters in their stitch.
(text) @local.scope
(stitch) @local.scope

(let name: (name) @local.definition.var)
(chart name: (name) @local.definition.var)
(parameter name: (name) @local.definition.parameter)

(name) @local.reference
