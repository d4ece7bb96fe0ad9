FROM mcr.microsoft.com/dotnet/sdk:10.0 AS build
WORKDIR /source
COPY . .
RUN dotnet publish src/Handwheel.Web -c Release -o /app --use-current-runtime --no-self-contained

FROM mcr.microsoft.com/dotnet/aspnet:10.0
WORKDIR /app
COPY --from=build /app .
# The shop's folder: database, keys, backups. Owned by the account the app runs as.
RUN mkdir /shop && chown $APP_UID /shop
USER $APP_UID
VOLUME /shop
# HTTPS comes beside plain HTTP at port 5443; HANDWHEEL_HOSTS says by which names tablets reach this container.
ENV HANDWHEEL_SHOP=/shop \
    ASPNETCORE_URLS=http://0.0.0.0:5080
EXPOSE 5080 5443
ENTRYPOINT ["dotnet", "handwheel.dll"]
