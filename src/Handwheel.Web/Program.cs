using Handwheel.Web.Serving;

return await Server.Run(args);
