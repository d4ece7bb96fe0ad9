using Handwheel.Launcher;
using Handwheel.Web.Commands;

return Verbs.Has(args) && await CommandLine.Run(args) is { } status ? status : WholeApp.Run(args);
