using Handwheel.Web.Commands;
using Handwheel.Web.Serving;

return await CommandLine.Run(args) ?? await Server.Run(args);
