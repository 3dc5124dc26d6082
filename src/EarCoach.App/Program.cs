using EarCoach.App.Web;

return await WebHost.RunAsync(new WebOptions(), CancellationToken.None);
